import { describe, expect, it } from 'vitest';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { combine, withinOhms } from '../../core/uncertainty/budget.ts';
import type { Verdict } from '../../core/window/judge.ts';
import { freedomText, shareText } from '../../renderer/worth/budgetTable.tsx';
import { coverageRows } from '../../renderer/worth/coverage.ts';
import { valueRows } from '../../renderer/worth/valueRows.ts';
import { verdictRows } from '../../renderer/worth/verdictRows.ts';
import { readyRun, withReadings } from '../core/inspection/walk.ts';

const said = (text: unknown) => String(text).replaceAll('\u00a0', ' ');

function judged(
  limits: { lower: string; upper: string },
  ohms: string,
  expandedOhms: string | null,
  verdict: Verdict,
): [Run, Reading] {
  const run = withReadings(readyRun(), '4702.13');
  const reading = run.readings.get(0) as Reading;
  const uncertainty = expandedOhms === null ? null : { expandedOhms, coverageFactor: '2.00' };
  return [
    { ...run, window: { nominal: null, ...limits } },
    { ...reading, ohms, raw: ohms, uncertainty, verdict },
  ];
}

function row(rows: ReturnType<typeof verdictRows>, name: string) {
  const found = rows.find((one) => said(one.name).startsWith(name));
  return found && { value: said(found.value), words: said(found.words) };
}

describe('what a verdict is worth, in rows', () => {
  it('says how often it is wrong, both tails: the motor oil of JCGM 106:2012 (from memory, recomputed)', () => {
    // Limits 12.5 and 16.3, 13.6 measured with u = 1.8: it conforms with a probability of 0.66263.
    const pass = verdictRows(...judged({ lower: '12.5', upper: '16.3' }, '13.6', '3.6', 'pass'));
    expect(row(pass, 'This verdict')?.value).toBe('34 %');
    // By hand: Φ(-1.1/1.8) = 0.2706 and Φ(-2.7/1.8) = 0.0668; together 0.3374.
    expect(row(pass, 'True value')?.value).toBe('below 12.5 Ω: 27 %; above 16.3 Ω: 6.7 %');
  });

  it('of a value that fails counts what lies inside', () => {
    const fail = verdictRows(...judged({ lower: '12.5', upper: '16.3' }, '12.5', '0.2', 'fail-low'));
    expect(row(fail, 'This verdict')?.value).toBe('50 %');
    expect(row(fail, 'This verdict')?.words).toContain('inside the window all the same');
    expect(row(fail, 'From the lower limit')).toEqual({ value: '0 Ω', words: 'exactly on it, which is inside' });
  });

  it('never says that a verdict cannot be wrong', () => {
    const far = verdictRows(...judged({ lower: '1', upper: '1000' }, '500', '0.0001', 'pass'));
    expect(row(far, 'This verdict')?.value).toBe('less than 0.01 %');
  });

  it('without U gives no ratio and no probability, and still says where the value lies', () => {
    const rows = verdictRows(...judged({ lower: '12.5', upper: '16.3' }, '13.6', null, 'pass'));
    expect(rows.map(({ name }) => said(name))).toEqual([
      'Decision rule',
      'From the lower limit 12.5 Ω',
      'From the upper limit 16.3 Ω',
    ]);
    expect(row(rows, 'From the lower limit')).toEqual({ value: '1.1 Ω', words: 'inside it' });
  });
});

describe('the way from a budget to U', () => {
  it('is that of JCGM 100:2008, Table G.2 for few degrees of freedom (from memory, recomputed)', () => {
    // One line seen with 9 degrees of freedom: t for 95.45 % is 2.32.
    const only = { ...withinOhms('repeatability', 'seen', '1'), standardUncertainty: 1, degreesOfFreedom: 9 };
    const rows = coverageRows(combine([only]), { expandedOhms: '2.4', coverageFactor: '2.32' });
    expect(rows.map(({ value }) => said(value))).toEqual(['1 Ω', '9', '2.32', '±2.4 Ω (k = 2.32)']);
  });

  it('with limits alone has infinitely many degrees of freedom and k = 2', () => {
    // By hand: 3/√3 = 1.732.
    const rows = coverageRows(combine([withinOhms('limit', 'manual', '3')]), {
      expandedOhms: '3.5',
      coverageFactor: '2.00',
    });
    expect(rows.map(({ value }) => said(value))).toEqual(['1.73 Ω', '∞', '2.00', '±3.5 Ω (k = 2.00)']);
  });

  it('writes little shares and many degrees of freedom so that they can be read', () => {
    expect([0, 0.0004, 4.44, 73.9, 100].map(shareText).map(said)).toEqual([
      '0 %',
      'under 0.1 %',
      '4.4 %',
      '74 %',
      '100 %',
    ]);
    expect([null, 2, 46.18, 371_234.5, 1.28e15].map(freedomText).map(said)).toEqual([
      '∞',
      '2',
      '46.2',
      '371 000',
      'over 1 000 000',
    ]);
  });
});

describe('how a value was made, in rows', () => {
  it('shows what was subtracted and what was added', () => {
    // By hand: 4702.13 / (1 + 100e-6 · 3) = 4700.719784…
    const coefficient = { knownPpmPerKelvin: '100', uncertaintyPpmPerKelvin: '10' };
    const run = withReadings(readyRun({ temperature: { coefficient } }), '+4.70213E+03');
    const rows = valueRows(run, run.readings.get(0) as Reading, run);
    const value = (name: string) => said(rows.find((one) => one.name === name)?.value);
    expect(value('The meter said')).toBe('+4.70213E+03');
    expect(value('Brought to that temperature')).toBe('−1.41 Ω');
    expect(value('Value that was judged')).toBe('4.70072 kΩ');
    expect(rows.find(({ name }) => name === 'Heat of the test current')?.words).toContain('without a rated power');
  });

  it('says what is not known while the bench is not', () => {
    const run = withReadings(readyRun(), '4702.13');
    const rows = valueRows(run, run.readings.get(0) as Reading, null);
    expect(said(rows.find(({ name }) => name === 'Temperature')?.words)).toBe(
      'that of the room is not known; the value is wanted at 20 °C',
    );
  });
});
