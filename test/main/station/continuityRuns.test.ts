import { readFileSync } from 'node:fs';
import { describe, expect, it, onTestFinished } from 'vitest';
import { CONTINUITY_CAUTIONS } from '../../../core/continuity/continuityCautions.ts';
import {
  areChecksDue,
  type ContinuityRun,
  continuityOutlook,
  continuityStep,
  leadCheckDue,
  nextPoint,
  readingOf,
} from '../../../core/continuity/continuityRun.ts';
import { netResults, swappedWords } from '../../../core/continuity/netSummary.ts';
import { verifyContinuity } from '../../../core/continuity/verifyContinuity.ts';
import type { News, Question, Stepping } from '../../../core/contract/contract.ts';
import { foldContinuityEntries } from '../../../core/contract/openContinuity.ts';
import type { BenchScenarioInput } from '../../../instruments/bench/scenario.ts';
import { type BenchServer, serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import type { WiringInput } from '../../../instruments/bench/wiring.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { SETTINGS, tinyMeter } from '../../tinyMeter.ts';

/** Invented: three wires from plug A to plug B, one with a branch, and a switch. */
const CSV = 'from,to\nA1,B1\nA2,B2\nA3,B3\nB3,C3\n';
const WIRES: WiringInput['wires'] = [
  { from: 'A1', to: 'B1', ohms: 0.12 },
  { from: 'A2', to: 'B2', ohms: 0.08 },
  { from: 'A3', to: 'B3', ohms: 0.2 },
  { from: 'B3', to: 'C3', ohms: 0.1 },
];

async function bench(
  faults: WiringInput['faults'],
  more: BenchScenarioInput = {},
  wires = WIRES,
): Promise<BenchServer> {
  const scenario = { meter: { pace: 'none' as const }, wiring: { wires, faults }, ...more };
  const server = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario });
  onTestFinished(() => server.close());
  return server;
}

const runOf = async (station: Station, run: number): Promise<ContinuityRun> =>
  foldContinuityEntries((await station.ask('open-continuity', { run })).entries);

async function received(
  station: Station,
  claim: Partial<Question<'receive-continuity'>['claim']> = {},
): Promise<number> {
  const { run } = await station.ask('receive-continuity', {
    claim: { inspector: BY, title: 'Door harness', csv: CSV, ...claim },
  });
  return run;
}

async function connected(station: Station, run: number, address: string): Promise<void> {
  await station.ask('connect-continuity', { run, address });
  await station.ask('confirm-continuity', { run, by: BY, cautions: [...CONTINUITY_CAUTIONS] });
}

/** The rest of the round, or a new one; ends at a check that fails. */
async function check(station: Station, run: number): Promise<string> {
  for (let count = 0; count < 3; count++) {
    const now = await runOf(station, run);
    const { entry } = await station.ask('check-continuity', { run, by: BY, check: leadCheckDue(now) });
    if (entry.event.type !== 'continuity-leads-checked') throw new Error('that is no check');
    if (entry.event.outcome === 'failed') return entry.event.why;
    if ((await runOf(station, run)).round.length === 3) break;
  }
  return '';
}

/** Every point that is left, with the checks that are due. */
async function measured(station: Station, run: number): Promise<ContinuityRun> {
  for (let now = await runOf(station, run); ; now = await runOf(station, run)) {
    const point = nextPoint(now);
    if (areChecksDue(now)) {
      const why = await check(station, run);
      if (why !== '') throw new Error(why);
    } else if (point === null) return now;
    else await station.ask('read-point', { run, point: point.point });
  }
}

async function whole(
  faults: WiringInput['faults'],
  claim: Parameters<typeof received>[1] = {},
): Promise<ContinuityRun> {
  const [station, { address }] = [openedStation(), await bench(faults)];
  const run = await received(station, claim);
  await connected(station, run, address);
  return measured(station, run);
}

describe('a continuity run over SCPI', () => {
  it('finds nothing where the wiring is as the list says, and its certificate is verified', async () => {
    const [station, { address }] = [openedStation(), await bench([])];
    const run = await received(station);
    await connected(station, run, address);
    const now = await measured(station, run);
    expect(continuityOutlook(now)).toBe('as-expected');
    expect(netResults(now).map(({ state }) => state)).toEqual(['good', 'good', 'good']);
    // 0.12 Ω of wire: what the leads add is subtracted, what the contacts add is within the doubt.
    expect(Number(readingOf(now, 1)?.ohms)).toBeCloseTo(0.12, 1);
    expect(await problemOf(station.ask('write-continuity', { run }))).toBe('run-undecided');
    await station.ask('decide-continuity', { run, disposition: 'accepted', by: BY });
    const { file, text } = await station.ask('write-continuity', { run });
    expect(readFileSync(file, 'utf8')).toBe(text);
    const { record } = verifyContinuity(readFileSync(file));
    expect(record).toMatchObject({ number: run, run: { title: 'Door harness' } });
    expect(text).toContain('Simulated bench: practice');
    expect(await station.ask('continuity-runs', {})).toMatchObject({
      total: 1,
      runs: [{ run, disposition: 'accepted', asExpected: 7, certificates: 1, simulated: true }],
    });
    expect(await problemOf(station.ask('read-point', { run, point: 1 }))).toBe('run-decided');
  });

  it('finds a broken wire', async () => {
    const now = await whole([{ kind: 'broken', wire: 4 }]);
    expect(readingOf(now, 4)).toMatchObject({
      verdict: 'not-as-expected',
      reason: 'no-connection',
      range: 'automatic',
    });
    expect(netResults(now)[2]?.words).toBe('broken; cut off from A3, B3: C3');
  });

  it('finds a contact that is bad', async () => {
    const now = await whole([{ kind: 'resistive', wire: 2, ohms: 470 }]);
    expect(readingOf(now, 2)).toMatchObject({ verdict: 'not-as-expected', reason: 'high-resistance' });
    expect(Number(readingOf(now, 2)?.ohms)).toBeCloseTo(470, 0);
  });

  it('finds a pair that is swapped', async () => {
    const now = await whole([{ kind: 'swapped', wires: [1, 2] }], { cross: 'all' });
    expect(swappedWords(now)).toEqual(['A1 – B1 and A2 – B2 look swapped']);
  });

  it('finds a short between two nets by one terminal of each', async () => {
    const now = await whole([{ kind: 'crossed', from: 'B2', to: 'C3', ohms: 0.3 }]);
    expect(netResults(now).map(({ state }) => state)).toEqual(['good', 'crossed', 'crossed']);
  });

  it('finds what is neither open nor closed', async () => {
    const now = await whole([{ kind: 'crossed', from: 'B1', to: 'B2', ohms: 50_000 }]);
    const cross = now.points.find(({ from, to }) => from === 'A1' && to === 'A2')?.point ?? 0;
    expect(readingOf(now, cross)).toMatchObject({ found: 'between', reason: 'neither-open-nor-closed' });
  });

  it('measures a switch as it stands in each state', async () => {
    const [station, server] = [openedStation(), await bench([], {}, [{ from: 'L1', to: 'T1', state: 'Q1 on' }])];
    const csv = 'from,to,expected,state\nL1,T1,closed,Q1 on\nL1,T1,open,Q1 off\n';
    const run = await received(station, { csv });
    await connected(station, run, server.address);
    expect(continuityOutlook(await measured(station, run))).toBe('as-expected');
  });

  it('takes nothing for good that was read through a lead that broke in its middle', async () => {
    const [station, server] = [openedStation(), await bench([{ kind: 'crossed', from: 'A1', to: 'A2' }])];
    const run = await received(station);
    await connected(station, run, server.address);
    await check(station, run);
    for (const point of [1, 2, 3, 4]) await station.ask('read-point', { run, point });
    server.bench.conditions.leads = 'broken';
    for (const point of [5, 6, 7]) await station.ask('read-point', { run, point });
    const fooled = await runOf(station, run);
    expect(continuityOutlook(fooled)).toBe('as-expected');
    expect(continuityStep(fooled)).toBe('check');
    expect(await problemOf(station.ask('decide-continuity', { run, disposition: 'accepted', by: BY }))).toBe(
      'closing-check-missing',
    );
    expect(await check(station, run)).toMatch(/^overload with shorted leads/);
    expect((await runOf(station, run)).readings.every(({ suspect }) => suspect !== null)).toBe(true);
    server.bench.conditions.leads = 'good';
    expect(continuityOutlook(await measured(station, run))).toBe('not-as-expected');
  });

  it('stops at a voltage before anything is read', async () => {
    const [station, { address }] = [openedStation(), await bench([], { fixtureVolts: 12, meter: { pace: 'none' } })];
    const run = await received(station);
    await connected(station, run, address);
    expect(await check(station, run)).toMatch(/12.* V DC between the probes.*Stop/);
    expect(await problemOf(station.ask('read-point', { run, point: 1 }))).toBe('run-not-ready');
  });

  it('asks for the word where the meter has no volts, and says what no accuracy was entered means', async () => {
    const station = openedStation();
    const meter = await tinyMeter({ ...SETTINGS });
    const run = await received(station, { csv: 'from,to\nA1,B1\n' });
    await connected(station, run, meter.address);
    expect(await problemOf(station.ask('check-continuity', { run, by: BY, check: 'shorted-leads' }))).toBe(
      'check-out-of-order',
    );
    expect(await problemOf(station.ask('check-continuity', { run, by: BY, check: 'no-voltage', word: true }))).toBe(
      'check-must-be-measured',
    );
  });

  it('goes on in another station where it was: the same readings, the checks anew', async () => {
    const folder = temporaryFolder();
    const [station, { address }] = [openedStation(folder), await bench([])];
    const run = await received(station);
    await connected(station, run, address);
    await check(station, run);
    await station.ask('read-point', { run, point: 1 });
    await station.close();
    const again = openedStation(folder);
    expect((await runOf(again, run)).readings.size).toBe(1);
    expect(await problemOf(again.ask('read-point', { run, point: 2 }))).toBe('meter-missing');
    await again.ask('connect-continuity', { run, address });
    expect(continuityStep(await runOf(again, run))).toBe('cautions');
    await connected(again, run, address);
    expect(continuityOutlook(await measured(again, run))).toBe('as-expected');
  });

  it('has the one meter of the station, which lets whatever else has it go', async () => {
    const [station, { address }] = [openedStation(), await bench([])];
    const lot = await station.ask('receive-lot', { claim: exampleLot() });
    await station.ask('connect-meter', { run: lot.run, address: 'sim:1' });
    const run = await received(station);
    expect(run).toBe(lot.run + 1);
    await connected(station, run, address);
    const { link, wiring } = await station.ask('overview', {});
    expect([link.state, wiring.link.state]).toEqual(['none', 'connected']);
    await station.ask('connect-meter', { run: lot.run, address: 'sim:1' });
    expect((await station.ask('overview', {})).wiring.link.state).toBe('none');
    expect(await problemOf(station.ask('open-run', { run }))).toBe('continuity-not-such-a-run');
    expect(await problemOf(station.ask('story-of-run', { run }))).toBe('continuity-not-such-a-run');
    expect(await problemOf(station.ask('open-continuity', { run: lot.run }))).toBe('continuity-not-such-a-run');
  });

  it('says that the meter is lost, and that the leads are to be checked anew', async () => {
    const station = openedStation();
    const meter = await tinyMeter({ ...SETTINGS });
    const run = await received(station);
    await connected(station, run, meter.address);
    const lost = new Promise<void>((resolve) => {
      station.listen((news) => {
        if (news.kind === 'continuity-link' && news.link.state === 'lost') resolve();
      });
    });
    meter.hangUp();
    await lost;
    expect(await problemOf(station.ask('read-point', { run, point: 1 }))).toMatch(/meter-missing|run-not-ready/);
  });
});

describe('a list that is gone through hands-free', () => {
  /** Until it has ended. */
  function ended(station: Station): Promise<{ last: Stepping; heard: Stepping[] }> {
    const heard: Stepping[] = [];
    return new Promise((resolve) => {
      station.listen((news: News) => {
        if (news.kind !== 'stepping') return;
        heard.push(news.stepping);
        if (news.stepping.phase === 'off') resolve({ last: news.stepping, heard });
      });
    });
  }

  const HANDS = { hands: { piecesPerSecond: 2, shareSlips: 0.3 }, meter: { pace: 'real' as const } };

  it('takes each point once, by contact held or by the sign for open, and finds what is wrong', async () => {
    const [station, server] = [openedStation(), await bench([{ kind: 'broken', wire: 2 }], HANDS)];
    const run = await received(station, { csv: 'from,to\nA1,B1\nA2,B2\nA3,B3\n', cross: 'none' });
    await connected(station, run, server.address);
    await check(station, run);
    const over = ended(station);
    await station.ask('start-stepping', { run });
    const { last, heard } = await over;
    expect(last).toMatchObject({ run, point: null });
    expect(last.why).toBeUndefined();
    const now = await runOf(station, run);
    expect(now.readings.map(({ point, by, verdict }) => [point, by, verdict]).toArray()).toEqual([
      [1, 'contact', 'as-expected'],
      [2, 'sign', 'not-as-expected'],
      [3, 'contact', 'as-expected'],
    ]);
    expect(heard.some(({ closed }) => closed)).toBe(true);
    expect(heard.filter(({ outcome }) => outcome === 'captured')).toHaveLength(3);
  });

  it('takes an open point after two taps, and a cross-connection as it reads', async () => {
    const [station, server] = [openedStation(), await bench([{ kind: 'crossed', from: 'B1', to: 'B3' }], HANDS)];
    const run = await received(station, {
      csv: 'from,to,expected\nA1,B2,open\nA1,A3,open\nA1,B1,closed\n',
      cross: 'none',
    });
    await connected(station, run, server.address);
    await check(station, run);
    const over = ended(station);
    await station.ask('start-stepping', { run });
    await over;
    const now = await runOf(station, run);
    expect(now.readings.map(({ point, by, reason }) => [point, by, reason]).toArray()).toEqual([
      [1, 'sign', null],
      [2, 'contact', 'cross-connection'],
      [3, 'contact', null],
    ]);
  });

  it('takes the key for the sign, of leads that are held and open', async () => {
    const [station, server] = [openedStation(), await bench([{ kind: 'broken', wire: 1 }], HANDS)];
    const run = await received(station, { csv: 'from,to\nA1,B1\n', cross: 'none' });
    await connected(station, run, server.address);
    await check(station, run);
    const over = ended(station);
    await station.ask('start-stepping', { run });
    // The hands hold the broken wire by now, and nothing shows.
    setTimeout(() => void station.ask('say-now', { run }), 1500);
    const began = performance.now();
    const { heard } = await over;
    // Sooner than the hands lose their patience and tap.
    expect(performance.now() - began).toBeLessThan(4000);
    expect(heard.some(({ outcome }) => outcome === 'open-said')).toBe(true);
    expect((await runOf(station, run)).readings.get(0)).toMatchObject({ by: 'sign', reason: 'no-connection' });
  });

  it('waits for a switch, and ends where the leads are to be checked', async () => {
    const wires = [{ from: 'L1', to: 'T1', state: 'Q1 on' }];
    const [station, server] = [openedStation(), await bench([], HANDS, wires)];
    const csv = 'from,to,expected,state\nL1,T1,closed,Q1 on\nL1,T1,open,Q1 off\nL1,L2,open,\n';
    const run = await received(station, { csv, cross: 'none', checksEveryReadings: 2 });
    await connected(station, run, server.address);
    expect(await problemOf(station.ask('say-now', { run }))).toBe('stepping-off');
    expect(await problemOf(station.ask('start-stepping', { run }))).toBe('run-not-ready');
    await check(station, run);
    const over = ended(station);
    const asked: string[] = [];
    station.listen((news) => {
      if (news.kind !== 'stepping' || news.stepping.phase !== 'switch') return;
      const { point } = news.stepping;
      asked.push(`switch for ${point}`);
      const state = point === 1 ? 'Q1 on' : 'Q1 off';
      // Neither a second press of the key for open counts as that, nor the very moment.
      void station.ask('say-now', { run });
      void station.ask('say-now', { run, state });
      setTimeout(() => void station.ask('say-now', { run, state }), 500);
    });
    const began = performance.now();
    await station.ask('start-stepping', { run });
    expect((await over).last.why?.code).toBe('readiness-expired');
    expect(asked).toEqual(['switch for 1', 'switch for 2']);
    expect(performance.now() - began).toBeGreaterThan(1000);
    const now = await runOf(station, run);
    expect(now.readings.map(({ point, verdict }) => [point, verdict]).toArray()).toEqual([
      [1, 'as-expected'],
      [2, 'as-expected'],
    ]);
    expect(continuityStep(now)).toBe('check');
  });
});
