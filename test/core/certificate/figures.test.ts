import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { COLUMNS } from '../../../core/certificate/format.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { decide } from '../../../core/inspection/decide.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { outlook } from '../../../core/inspection/outlook.ts';
import type { Reading, Run } from '../../../core/inspection/run.ts';
import type { Problem } from '../../../core/problem/problem.ts';
import { CHECKS } from '../../../core/readiness/check.ts';
import { studyOfRun } from '../../../core/study/studyOfRun.ts';
import { SIGNER } from '../../signer.ts';
import {
  confirmedRun,
  decidedRun,
  goodCheck,
  METER,
  readyRun,
  timeAt,
  walk,
  wholeRound,
  withReadings,
} from '../inspection/walk.ts';
import { ABOUT, bytesOf, rowsOfFile } from './files.ts';

type Cells = Record<(typeof COLUMNS)[number], string>;

/** The rows of a run's certificate, which must verify. */
function rowsOfRun(run: Run): Cells[] {
  const text = certificateOf(run, ABOUT, SIGNER);
  verifyCertificate(bytesOf(text));
  expect(text).not.toMatch(/NaN|Infinity|undefined|null/);
  const rows = rowsOfFile(text).slice(1, -1);
  return rows.map((cells) => Object.fromEntries(COLUMNS.map((column, at) => [column, cells[at]])) as Cells);
}

function fact(rows: readonly Cells[], row: string, item: string): Cells {
  const found = rows.find((cells) => cells.row === row && cells.item === item);
  if (!found) throw new Error(`no ${row}, ${item}`);
  return found;
}

/** A lot that was decided with these readings. */
function lotOf(raws: readonly string[], over: Partial<LotClaimInput> = {}): Run {
  const size = Math.max(raws.length, 1);
  const plan = { sampleSize: size, accept: size - 1 };
  const run = withReadings(readyRun({ plan, checks: { everyReadings: 1000 }, ...over }), ...raws);
  return decidedRun(run, outlook(run) === 'accept' ? 'accepted' : 'not-accepted');
}

/** Quantiles of a normal distribution, so far apart as those of so many pieces are; in an order without trend. */
function normalPieces(count: number, mean: number, spread: number): string[] {
  const ordered = Array.from({ length: count }, (_, index) => {
    const p = (index + 0.5) / count;
    // Abramowitz and Stegun 26.2.23, exact to 4.5e-4, which is all that is needed here.
    const t = Math.sqrt(-2 * Math.log(Math.min(p, 1 - p)));
    const z = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
    return (mean + spread * (p < 0.5 ? -z : z)).toFixed(2);
  });
  return ordered.map((_, index) => ordered[(index * 7) % count] as string);
}

describe('the figures of a lot on its certificate', () => {
  it('are those of the readings that count: 4698 to 4702 by ones', () => {
    // By hand: squares about 4700 are 4, 1, 0, 1, 4; s = √(10/4) = 1.58114; the middle one is 4700.
    const rows = rowsOfRun(lotOf(['4698.00', '4700.00', '4702.00', '4699.00', '4701.00']));
    expect(fact(rows, 'figure', 'standard deviation').ohms).toBe('1.58114');
    expect(fact(rows, 'figure', 'median').ohms).toBe('4700.00000');
    expect(fact(rows, 'figure', 'readings with a value').pieces).toBe('5');
    // Clopper-Pearson, none of five: 1 - 0.025^(1/5) = 0.5218.
    expect(fact(rows, 'figure', 'outside, as counted')).toMatchObject({
      percent: '0',
      text: expect.stringMatching(/^0 of 5/),
    });
    expect(fact(rows, 'figure', 'outside, as counted, 95 % interval to').percent).toBe('52.2');
    expect(fact(rows, 'figure', 'Ppk')).toMatchObject({ number: '', text: expect.stringMatching(/^Only 5 pieces/) });
  });

  it('leave out what does not count, and open pieces', () => {
    let run = withReadings(readyRun({ plan: { sampleSize: 4, accept: 3 } }), '4698.00', '4100.00', '+9.9E+37');
    run = walk(run, { type: 'void-reading', reading: 2, by: 'B', reason: 'probe slipped' });
    const rows = rowsOfRun(decidedRun(withReadings(run, '4700.00', '4702.00'), 'accepted'));
    expect(fact(rows, 'figure', 'readings with a value').pieces).toBe('3');
    expect(fact(rows, 'figure', 'standard deviation').ohms).toBe('2.00000');
    const readings = rows.filter(({ row }) => row === 'reading');
    expect(readings.map(({ wrong_percent }) => wrong_percent)).toEqual(['0', '', '', '0', '0']);
  });

  it('quote capability of a lot as a process leaves it: s about 6 Ω in ±47 Ω is a Pp of about 2.6', () => {
    const rows = rowsOfRun(lotOf(normalPieces(60, 4700, 6)));
    expect(fact(rows, 'figure', 'shape').text).toBe('normal-like');
    const [pp, ppk] = ['Pp', 'Ppk'].map((item) => fact(rows, 'figure', item).number);
    expect(Number(pp)).toBeGreaterThan(2.5);
    expect(Number(pp)).toBeLessThan(2.8);
    // The mean is the nominal value: both are the same.
    expect(Number(ppk)).toBeCloseTo(Number(pp), 2);
    expect(Number(fact(rows, 'figure', 'Ppk, 95 % interval from').number)).toBeLessThan(Number(ppk));
    expect(fact(rows, 'figure', 'tolerance interval').lower_ohms).toMatch(/^46\d\d\.\d{5}$/);
    expect(fact(rows, 'figure', 'trend').text).toMatch(/^No trend is shown/);
    expect(fact(rows, 'figure', 'outliers').text).toMatch(/^None found/);
  });

  it('give the words of the shape where the middle was sorted out, and no capability', () => {
    const hole = [...normalPieces(40, 4670, 5), ...normalPieces(40, 4730, 5)];
    const mixed = hole.map((_, index) => hole[(index * 37) % hole.length] as string);
    const rows = rowsOfRun(lotOf(mixed));
    expect(fact(rows, 'figure', 'shape').text).toBe('hole-in-the-middle');
    for (const item of ['Pp', 'Ppk']) {
      expect(fact(rows, 'figure', item)).toMatchObject({
        number: '',
        text: fact(rows, 'figure', 'shape, what it says').text,
      });
    }
    for (const item of ['outside, expected of a normal lot', 'tolerance interval']) {
      expect(fact(rows, 'figure', item)).toMatchObject({
        percent: '',
        lower_ohms: '',
        text: expect.stringMatching(/^Not given/),
      });
    }
  });

  it('name an outlier by its piece', () => {
    const raws = normalPieces(30, 4700, 2);
    raws[11] = '4730.00';
    const rows = rowsOfRun(lotOf(raws));
    expect(rows.filter(({ item }) => item === 'outlier').map(({ piece, ohms }) => [piece, ohms])).toEqual([
      ['12', '4730.00'],
    ]);
  });

  it('say where a lot that wanders leaves the window', () => {
    // A tenth of an ohm a piece from 4700: past 4747 at piece 471, by hand.
    const raws = Array.from({ length: 40 }, (_, index) => (4700.1 + index / 10).toFixed(2));
    const rows = rowsOfRun(lotOf(raws, { lot: { number: 'L', size: 5000 } }));
    expect(fact(rows, 'figure', 'trend, slope for each piece')).toMatchObject({ ohms: '0.100000' });
    expect(Number(fact(rows, 'figure', 'trend, p').number)).toBeLessThan(1e-9);
    const piece = Number(fact(rows, 'figure', 'trend, leaves the window at').piece);
    expect(Math.abs(piece - 471)).toBeLessThanOrEqual(1);
  });

  it.each([
    ['of one reading', ['4700.00'], {}],
    ['of two', ['4700.00', '4701.00'], {}],
    ['all equal', Array<string>(20).fill('4700.00'), {}],
    ['all open', Array<string>(3).fill('+9.9E+37'), {}],
    ['in a window of one limit', normalPieces(40, 4700, 5), { part: { number: 'P', tolerance: '<= 4747' } }],
    ['in a window from below', normalPieces(40, 4700, 5), { part: { number: 'P', tolerance: '>= 4653' } }],
    ['with half of them far off', [...normalPieces(20, 4700, 5), ...Array<string>(20).fill('470000')], {}],
  ] as [string, string[], Partial<LotClaimInput>][])('%s are words where they can be no figures', (_, raws, over) => {
    const rows = rowsOfRun(lotOf(raws, { decision: { processSpread: '12 ohm' }, ...over }));
    for (const { row, item, text, pieces, piece, ohms, lower_ohms, expanded_ohms, percent, number } of rows) {
      if (!['worth', 'figure', 'drift'].includes(row)) continue;
      expect(`${text}${pieces}${piece}${ohms}${lower_ohms}${expanded_ohms}${percent}${number}`, item).not.toBe('');
    }
  });

  it('are none of a lot on hold before any reading', () => {
    const run = walk(confirmedRun(), { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    const rows = rowsOfRun(run);
    expect(rows.filter(({ row }) => row === 'figure').map(({ item, pieces }) => [item, pieces])).toEqual([
      ['readings with a value', '0'],
    ]);
    expect(fact(rows, 'worth', 'largest expanded uncertainty').text).toBe('of no reading that counts is it known');
  });
});

describe('what the readings are worth, on the certificate', () => {
  it('is the largest U, the ratio to the tolerance, and how probable a wrong verdict is', () => {
    const rows = rowsOfRun(lotOf(['4702.13', '4652.90', '4653.00']));
    // U = 0.88 with k = 2: u = 0.44. 0.1 / 0.44 = 0.2273: Φ(-0.2273) = 0.4101 (tables of the normal distribution).
    expect(rows.filter(({ row }) => row === 'reading')).toMatchObject([
      { expanded_ohms: '0.88', coverage_factor: '2.00', verdict: 'pass', wrong_percent: '0' },
      { expanded_ohms: '0.88', verdict: 'fail-low', wrong_percent: '41.0' },
      { verdict: 'pass', wrong_percent: '50.0' },
    ]);
    expect(fact(rows, 'worth', 'largest expanded uncertainty')).toMatchObject({ expanded_ohms: '0.88' });
    expect(fact(rows, 'worth', 'smallest test uncertainty ratio').number).toBe('53');
    expect(rows.some(({ item }) => item.includes('risk'))).toBe(false);
  });

  it('counts what passes and fails on condition, by the rule that is printed', () => {
    const decision = { rule: 'non-binary', guardFactor: '0.83' } as const;
    const rows = rowsOfRun(lotOf(['4702.13', '4653.10', '4652.90', '4747.10', '4600.00'], { decision }));
    expect(fact(rows, 'decision', 'rule').text).toBe('non-binary');
    expect(fact(rows, 'decision', 'guard factor').number).toBe('0.83');
    expect(fact(rows, 'summary', 'conditional pass').pieces).toBe('1');
    expect(fact(rows, 'summary', 'conditional fail low').pieces).toBe('1');
    expect(fact(rows, 'summary', 'conditional fail high').pieces).toBe('1');
    expect(fact(rows, 'summary', 'fail low').pieces).toBe('1');
    expect(fact(rows, 'summary', 'nonconforming').pieces).toBe('3');
  });

  it('gives the risks of the rule for a process spread, as a plain sum over the process does', () => {
    const decision = { rule: 'guard-band', processSpread: '20 ohm' } as const;
    const rows = rowsOfRun(lotOf(['4702.13'], { decision }));
    const consumer = fact(rows, 'worth', "consumer's risk");
    expect(consumer.text).toContain('centred on the nominal value 4700 Ω with a standard deviation of 20 Ω');
    const summed = risksBySum({ mean: 4700, spread: 20, u: 0.88 / 2, lower: 4653, upper: 4747, guard: 0.88 });
    expect(Number(consumer.percent)).toBeCloseTo(summed.consumer * 100, 4);
    expect(Number(fact(rows, 'worth', "producer's risk").percent)).toBeCloseTo(summed.producer * 100, 2);
    const given = { part: { number: 'P', tolerance: '4653 to 4747' }, decision };
    expect(fact(rowsOfRun(lotOf(['4702.13'], given)), 'worth', "consumer's risk").text).toContain(
      'centred on the middle of the window 4700 Ω',
    );
    const oneSided = { part: { number: 'P', tolerance: '<= 4747' }, decision };
    expect(fact(rowsOfRun(lotOf(['4702.13'], oneSided)), 'worth', "producer's risk").text).toMatch(/^not worked out/);
  });

  it('is not spoilt by a piece of another value that was read on another range', () => {
    const auto = { ...METER, setting: { ...METER.setting, range: 'auto' as const, rangeOhms: null } };
    const over: Partial<LotClaimInput> = {
      decision: { rule: 'guard-band', processSpread: '12 ohm' },
      measurement: { range: 'auto' },
    };
    const rowsWith = (raws: readonly string[]) => {
      const plan = { sampleSize: raws.length, accept: raws.length - 1 };
      const run = withReadings(readyRun({ ...over, plan }, auto), ...raws);
      return rowsOfRun(decidedRun(run, outlook(run) === 'accept' ? 'accepted' : 'not-accepted'));
    };
    const [clean, strayed] = [rowsWith(['4702.13', '4700.00']), rowsWith(['4702.13', '9.90000E+06', '4700.00'])];
    for (const item of ['smallest test uncertainty ratio', "consumer's risk", "producer's risk"]) {
      expect(fact(strayed, 'worth', item), item).toEqual(fact(clean, 'worth', item));
    }
    expect(fact(strayed, 'worth', 'largest expanded uncertainty').text).toBe('of reading 2');
    const far = rowsWith(['9.90000E+06', '9.80000E+06']);
    expect(fact(far, 'worth', 'smallest test uncertainty ratio')).toMatchObject({
      number: '',
      text: expect.stringContaining('no reading'),
    });
  });

  it('is a meter that moved, and how far it was from its reference', () => {
    let run = withReadings(readyRun({ plan: { sampleSize: 1, accept: 0 } }), '4702.13');
    for (const check of CHECKS) {
      const good = goodCheck(run, check);
      const shown = ['4747.20', '4747.21', '4747.20'].map((raw) => ({ what: '2-wire' as const, raw }));
      run = walk(run, check === 'reference' ? { ...good, shown } : good);
    }
    const rows = rowsOfRun(walk(run, { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: '' }));
    // Means 4747.002 and 4747.20333…, by hand.
    expect(Number(fact(rows, 'drift', 'largest drift').ohms)).toBeCloseTo(0.20133, 4);
    expect(fact(rows, 'drift', 'largest drift').text).toContain('reference RS-1 after reading 1');
    // 0.2033 over √(0.88² + 0.05²) is 0.231.
    expect(fact(rows, 'drift', 'largest E_n').number).toMatch(/^0\.23/);
    expect(fact(rows, 'drift', 'checks of the reference').text).toBe('2');
  });

  it('has no p of 0, and warns that the indices of a reel that moves are not those of its end', () => {
    const moving = normalPieces(100, 4700, 4).map((ohms, index) => (Number(ohms) + 0.1 * index).toFixed(2));
    const rows = rowsOfRun(lotOf(moving, { lot: { number: 'L-2093', size: 5000 } }));
    expect(fact(rows, 'figure', 'trend, p')).toMatchObject({ number: '', text: 'Mann-Kendall: below 0.000001.' });
    for (const item of ['Ppk', 'outside, expected of a normal lot', 'tolerance interval']) {
      expect(fact(rows, 'figure', item).text, item).toContain('The value moves along the reel');
    }
  });

  it('is not known of a meter whose accuracy nobody entered, and the certificate says so', () => {
    let run = walk(confirmedRun({ plan: { sampleSize: 1, accept: 0 } }, { ...METER, data: null }), {
      type: 'override-calibration',
      by: 'B',
      reason: 'r',
    });
    const round = () => {
      for (const check of CHECKS) {
        const waiver = { shown: [{ what: 'waiver' as const, raw: 'none at hand' }], reference: null };
        run = walk(run, { ...goodCheck(run, check), ...(check === 'reference' ? waiver : {}) });
      }
    };
    round();
    run = withReadings(run, '4702.13');
    round();
    const rows = rowsOfRun(walk(run, { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: '' }));
    expect(fact(rows, 'reading', '1')).toMatchObject({
      verdict: 'pass',
      expanded_ohms: '',
      coverage_factor: '',
      wrong_percent: '',
    });
    expect(fact(rows, 'worth', 'readings whose uncertainty is not known').text).toBe('1');
    expect(fact(rows, 'drift', 'largest drift').text).toBe('no reference was measured');
  });
});

describe('a study on its certificate', () => {
  const study = { design: 'crossed', pieces: 2, operators: ['Ines Okoro', 'R. Adeyemi'], repeats: 2, seed: 3 } as const;

  it('has its turns in their order, and what it comes to', () => {
    const run = withReadings(readyRun({ plan: { study: { ...study, operators: [...study.operators] } } }), ...EIGHT);
    const rows = rowsOfRun(walk(wholeRound(run), { type: 'decide-lot', disposition: 'studied', by: 'B', reason: '' }));
    expect(fact(rows, 'plan', 'chosen by').text).toBe('study');
    expect(rows.filter(({ item, row }) => row === 'plan' && item === 'operator').map(({ by }) => by)).toEqual(
      study.operators,
    );
    const order = rows.filter(({ row }) => row === 'order');
    expect(order.map(({ item }) => item)).toEqual(['1', '2', '3', '4', '5', '6', '7', '8']);
    expect(new Set(order.map(({ piece, by, text }) => `${piece} ${by} ${text}`)).size).toBe(8);
    expect(fact(rows, 'study', 'variance, total, degrees of freedom').number).toBe('7');
    expect(Number(fact(rows, 'study', 'gauge, standard deviation').ohms)).toBeGreaterThan(0);
    expect(fact(rows, 'study', 'conclusion, categories').text).not.toBe('');
    expect(rows.some(({ row }) => row === 'figure')).toBe(false);
    expect(fact(rows, 'summary', 'by the plan').text).toBe('studied');
  });

  it('on hold with turns missing, or without any spread, says why there are no figures', () => {
    const plan = { study: { ...study, operators: [...study.operators] } };
    const three = withReadings(readyRun({ plan }), '4700.1', '4700.2', '4700.3');
    const held = walk(three, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    expect(fact(rowsOfRun(held), 'study', 'not worked out').text).toMatch(/^The study lacks readings: turn 4/);
    const equal = withReadings(readyRun({ plan }), ...Array<string>(8).fill('4700.0'));
    expect(fact(rowsOfRun(decidedRun(equal, 'studied')), 'study', 'not worked out').text).toContain('no spread');
  });

  it('takes no reading of an open piece: it would end without a figure and look as if it had been done', () => {
    const two = withReadings(
      readyRun({ plan: { study: { ...study, operators: [...study.operators] } } }),
      '1E3',
      '1E3',
    );
    const refused = decide(two, { type: 'record-reading', measured: { raw: '+9.9E+37' } }, timeAt(60));
    expect(refused).toMatchObject({ code: 'study-piece-open' });
    expect((refused as Problem).message).toContain('turn 3');
  });

  it('of a single operator says so where its sessions were measured one right after the other', () => {
    const single = {
      design: 'single',
      pieces: 1,
      operators: ['Ines Okoro'],
      repeats: 2,
      sessions: 2,
      seed: 1,
    } as const;
    const plan = { study: { ...single, operators: ['Ines Okoro'] } };
    const run = withReadings(readyRun({ plan }), '4700.10', '4700.20', '4700.10', '4700.30');
    const notesOf = (of: Run) => studyOfRun(of)?.notes.join();
    expect(notesOf(run)).toContain('Sessions began less than an hour apart');
    const onDay = (days: number) => new Date(Date.UTC(2026, 2, 2 + days, 9)).toISOString().replace('Z', '+00:00');
    const change = (reading: Reading) => ({ ...reading, at: onDay(reading.reading > 2 ? 1 : 0) });
    const days = run.readings.changed(0, run.readings.size, change);
    expect(notesOf({ ...run, readings: days })).not.toContain('apart');
  });

  it('of a single operator has its reference and bias', () => {
    const single = { design: 'single', pieces: 1, operators: ['Ines Okoro'], repeats: 4, seed: 1 } as const;
    const plan = {
      study: { ...single, operators: ['Ines Okoro'], referenceOhms: '4700', referenceUncertaintyOhms: '0.02' },
    };
    const run = withReadings(readyRun({ plan }), '4700.10', '4700.20', '4700.10', '4700.20');
    const rows = rowsOfRun(decidedRun(run, 'studied'));
    expect(fact(rows, 'plan', 'reference value').ohms).toBe('4700');
    expect(fact(rows, 'study', 'bias').ohms).toBe('0.150000');
  });
});

const EIGHT = ['4700.0', '4690.1', '4700.2', '4690.0', '4700.1', '4690.3', '4700.0', '4690.2'];

/** Risks by adding up narrow strips of the process: slow and simple. Normal tails by Zelen and Severo 26.2.17 (7.5e-8). */
function risksBySum({
  mean,
  spread,
  u,
  lower,
  upper,
  guard,
}: Record<'mean' | 'spread' | 'u' | 'lower' | 'upper' | 'guard', number>) {
  const below = (z: number): number => {
    if (z > 0) return 1 - below(-z);
    const t = 1 / (1 - 0.2316419 * z);
    const sum = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
    return (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * sum;
  };
  let [consumer, producer] = [0, 0];
  const step = 0.01;
  for (let value = mean - 8 * spread + step / 2; value < mean + 8 * spread; value += step) {
    const share = (step * Math.exp(-(((value - mean) / spread) ** 2) / 2)) / (spread * Math.sqrt(2 * Math.PI));
    const accepted = below((upper - guard - value) / u) - below((lower + guard - value) / u);
    if (value >= lower && value <= upper) producer += share * (1 - accepted);
    else consumer += share * accepted;
  }
  return { consumer, producer };
}
