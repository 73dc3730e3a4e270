import { describe, expect, it } from 'vitest';
import {
  continuityOutlook,
  continuityStep,
  continuityTally,
  nextPoint,
  readingOf,
} from '../../../core/continuity/continuityRun.ts';
import { continuityMatrix } from '../../../core/continuity/matrix.ts';
import { netResults, swappedWords } from '../../../core/continuity/netSummary.ts';
import { Bench, METER, OPEN, wiring } from './measured.ts';

const CSV = 'from,to,expected\nA1,B1,\nA2,B2,\nA3,B3,\nB3,C3,\n';
const GOOD = [
  ['A1', 'B1'],
  ['A2', 'B2'],
  ['A3', 'B3'],
  ['B3', 'C3'],
] as const;
const states = (bench: Bench) => netResults(bench.now).map(({ state }) => state);
const codeOf = (act: () => unknown): string => {
  try {
    act();
  } catch (thrown) {
    return (thrown as { code: string }).code;
  }
  return 'nothing was refused';
};

describe('a continuity run', () => {
  it('goes from connected to certified, and is good where the wiring is as the list says', () => {
    const bench = new Bench(CSV);
    expect(continuityStep(bench.now)).toBe('connect');
    bench.do({ type: 'connect-meter', meter: METER });
    expect(continuityStep(bench.now)).toBe('cautions');
    bench.connect();
    expect(continuityStep(bench.now)).toBe('check');
    bench.check();
    expect(continuityStep(bench.now)).toBe('measure');
    bench.all(wiring(GOOD));
    expect(continuityTally(bench.now)).toMatchObject({ points: 7, 'as-expected': 7, left: 0 });
    expect(continuityStep(bench.now)).toBe('decide');
    expect(states(bench)).toEqual(['good', 'good', 'good']);
    bench.do({ type: 'decide', disposition: 'accepted', by: 'Ines Okoro', reason: '', approvedBy: null });
    expect(continuityStep(bench.now)).toBe('certify');
    expect(codeOf(() => bench.read(1, OPEN))).toBe('run-decided');
  });

  it('finds a broken wire, a wire to the wrong place, and a short between nets', () => {
    const broken = new Bench(CSV).connect().all(wiring([GOOD[0], GOOD[1], GOOD[2]]));
    expect(netResults(broken.now)[2]).toMatchObject({
      state: 'broken',
      pieces: [['A3', 'B3'], ['C3']],
      words: 'broken; cut off from A3, B3: C3',
    });
    const short = new Bench(CSV).connect().all(wiring([...GOOD, ['B2', 'C3']]));
    expect(states(short)).toEqual(['good', 'crossed', 'crossed']);
    expect(netResults(short.now)[1]?.crossedWith).toEqual([3]);
    const swapped = new Bench(CSV, { cross: 'all' })
      .connect()
      .all(wiring([['A1', 'B2'], ['A2', 'B1'], GOOD[2], GOOD[3]]));
    expect(swappedWords(swapped.now)).toEqual(['A1 – B1 and A2 – B2 look swapped']);
    expect(continuityOutlook(swapped.now)).toBe('not-as-expected');
  });

  it('takes no reading before the leads were checked, nor behind as many as it asks for', () => {
    const bench = new Bench(CSV, { checksEveryReadings: 2 });
    expect(codeOf(() => bench.read(1, OPEN))).toBe('meter-missing');
    bench.connect();
    expect(codeOf(() => bench.read(1, OPEN))).toBe('run-not-ready');
    bench.check().read(1, '+3.1E-01').read(2, '+3.1E-01');
    expect(continuityStep(bench.now)).toBe('check');
    expect(codeOf(() => bench.read(3, OPEN))).toBe('readiness-expired');
    bench.check().read(3, '+3.1E-01');
    expect(codeOf(() => bench.read(3, '+3.1E-01'))).toBe('continuity-point-read-already');
    expect(codeOf(() => bench.read(99, '+3.1E-01'))).toBe('continuity-point-unknown');
  });

  it('makes everything since the last good checks suspect where a lead broke in the middle', () => {
    const bench = new Bench(CSV, { checksEveryReadings: 3 }).connect().check();
    bench.read(1, '+3.1E-01').read(2, '+3.1E-01').read(3, '+3.1E-01').check();
    // From here on a lead is broken: what is to be open looks good.
    bench.read(4, OPEN).read(5, OPEN).read(6, OPEN);
    expect(readingOf(bench.now, 5)?.verdict).toBe('as-expected');
    bench.check({ 'shorted-leads': Array.from({ length: 3 }, () => ({ what: '2-wire' as const, raw: OPEN })) });
    expect(bench.now.readings.map(({ suspect }) => suspect !== null).toArray()).toEqual([
      false,
      false,
      false,
      true,
      true,
      true,
    ]);
    expect(nextPoint(bench.now)?.point).toBe(4);
    expect(continuityStep(bench.now)).toBe('check');
    bench.all(wiring([...GOOD, ['A1', 'A2']]));
    expect(readingOf(bench.now, 5)?.reason).toBe('cross-connection');
  });

  it('makes them suspect where the zero of the leads went away', () => {
    const bench = new Bench(CSV).connect().check().read(1, '+3.1E-01');
    const moved = ['+0.31', '+0.31', '+0.31'].map((raw) => ({ what: '2-wire' as const, raw }));
    bench.check({ 'shorted-leads': moved });
    expect(bench.now.readings.get(0)?.suspect?.why).toMatch(/more than 100 mΩ apart/);
    // With nothing left to be proven, it is the zero from now on.
    bench.check({ 'shorted-leads': moved });
    expect(bench.now.zeroOhms).toBe('0.31');
  });

  it('asks for all checks anew after the meter was away, and for the same meter', () => {
    const bench = new Bench(CSV).connect().check().read(1, '+3.1E-01');
    bench.do({ type: 'lapse', why: 'the meter was lost' });
    expect(continuityStep(bench.now)).toBe('check');
    const other = { ...METER, identity: { ...METER.identity, text: 'X,Y,2,1' } };
    expect(codeOf(() => bench.do({ type: 'connect-meter', meter: other }))).toBe('meter-other');
    bench.do({ type: 'connect-meter', meter: METER });
    expect(continuityStep(bench.now)).toBe('cautions');
  });

  it('is accepted only with all points as expected, or by two people with a reason', () => {
    const bench = new Bench(CSV).connect().check();
    const decide = (
      disposition: 'accepted' | 'not-accepted' | 'on-hold',
      reason = '',
      approvedBy: string | null = null,
    ) => codeOf(() => bench.do({ type: 'decide', disposition, by: 'Ines Okoro', reason, approvedBy }));
    expect(decide('accepted')).toBe('continuity-points-left');
    expect(decide('not-accepted')).toBe('reason-missing');
    bench.do({ type: 'skip-point', point: 7, by: 'Ines Okoro', reason: 'connector not at hand' });
    bench.all(wiring(GOOD));
    expect(continuityOutlook(bench.now)).toBe('unsure');
    expect(decide('accepted')).toBe('reason-missing');
    expect(decide('accepted', 'seen by eye')).toBe('approval-missing');
    expect(decide('accepted', 'seen by eye', 'ines okoro')).toBe('approval-by-same-person');
    expect(decide('on-hold')).toBe('reason-missing');
    expect(decide('accepted', 'seen by eye', 'Bo Lind')).toBe('nothing was refused');
  });

  it('is not decided while no checks of the leads stand behind the last reading', () => {
    const bench = new Bench('from,to\nA1,B1\n').connect().check().read(1, OPEN);
    const accept = () =>
      bench.do({ type: 'decide', disposition: 'not-accepted', by: 'I', reason: '', approvedBy: null });
    expect(codeOf(accept)).toBe('closing-check-missing');
    bench.check();
    expect(codeOf(accept)).toBe('nothing was refused');
  });

  it('measures a point again when its reading is void, and keeps the reading', () => {
    const bench = new Bench(CSV).connect().check().read(1, OPEN);
    bench.do({ type: 'void-reading', reading: 1, by: 'Ines Okoro', reason: 'tip slipped' });
    expect(nextPoint(bench.now)?.point).toBe(1);
    bench.read(1, '+3.1E-01');
    expect(bench.now.readings.size).toBe(2);
    expect(readingOf(bench.now, 1)?.reading).toBe(2);
  });

  it('shows every two terminals in its matrix, and what follows from nets that hold', () => {
    const bench = new Bench(CSV).connect().all(wiring(GOOD));
    const matrix = continuityMatrix(bench.now);
    const at = (one: string, other: string) =>
      matrix.at(matrix.terminals.indexOf(one), matrix.terminals.indexOf(other));
    expect(at('A1', 'B1')).toMatchObject({ expected: 'closed', found: 'closed', verdict: 'as-expected', points: [1] });
    expect(at('A3', 'C3')).toMatchObject({ expected: 'closed', verdict: 'follows', points: [] });
    expect(at('B1', 'C3')).toMatchObject({ expected: 'open', verdict: 'follows' });
    expect(at('C3', 'B1')).toEqual(at('B1', 'C3'));
    expect(at('A1', 'A1')).toBeNull();
    const broken = new Bench(CSV).connect().all(wiring([GOOD[0], GOOD[1], GOOD[2]]));
    const other = continuityMatrix(broken.now);
    const [one, two] = [other.terminals.indexOf('A1'), other.terminals.indexOf('C3')];
    // C3 hangs off its net: that A1 and A3 are apart says nothing of it.
    expect(other.at(one, two)).toMatchObject({ verdict: 'not-known' });
  });
});

it('shows a pair that a switch closes and opens as neither of the two', () => {
  const csv = 'from,to,expected,state\nL1,T1,closed,Q1 on\nL1,T1,open,Q1 off\n';
  const bench = new Bench(csv).connect().all(({ state }) => (state === 'Q1 on' ? '+0.3E+00' : OPEN));
  expect(continuityMatrix(bench.now).at(0, 1)).toEqual({
    expected: 'depends',
    found: null,
    verdict: 'as-expected',
    points: [1, 2],
  });
});
