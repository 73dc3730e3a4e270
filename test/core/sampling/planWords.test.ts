import { describe, expect, it } from 'vitest';
import { planFor } from '../../../core/sampling/plan.ts';
import { type PlanChoice, planChoice } from '../../../core/sampling/planChoice.ts';
import { planChance, planQuality, shownPoints } from '../../../core/sampling/planOc.ts';
import { chancesSentence, planBriefly, planSentence, planSource } from '../../../core/sampling/planWords.ts';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const POINTS = { acceptedPercent: '1', producerRiskPercent: '5', refusedPercent: '6', consumerRiskPercent: '10' };
const CHOICES: Record<string, PlanChoice> = Object.fromEntries(
  Object.entries({
    single: { kind: 'aql', level: 'II', aql: '1.5' },
    double: { kind: 'aql', level: 'II', aql: '1.5', sampling: 'double' },
    reduced: { kind: 'aql', level: 'II', aql: '1.5', severity: 'reduced' },
    zero: { kind: 'zero-acceptance', refusedPercent: '1', riskPercent: '10' },
    points: { kind: 'two-point', ...POINTS, of: 'process' },
    pointsOfLot: { kind: 'two-point', ...POINTS, of: 'lot' },
    variables: { kind: 'variables', by: { kind: 'two-point', ...POINTS }, spreadOhms: null },
    known: { kind: 'variables', by: { kind: 'two-point', ...POINTS }, spreadOhms: '12' },
    variablesAql: {
      kind: 'variables',
      by: { kind: 'aql', level: 'IV', aql: '1.0', severity: 'normal' },
      spreadOhms: null,
    },
    agreed: { kind: 'agreed', sampleSize: 80, accept: 2 },
  }).map(([name, choice]) => [name, planChoice.parse(choice)]),
);
const LOT = 5000;
const of = (name: keyof typeof CHOICES) => planFor(LOT, CHOICES[name] as PlanChoice);

// MIL-STD-105E, letter L, AQL 1.5: II-A 200, 7/8; III-A 125 and 125, (3, 7) and (8, 9); II-C 80, 3/6. Two points: check values 7.3.
describe('a plan in words', () => {
  it.each([
    ['single', 'Measure 200 of 5 000 pieces. 7 nonconforming pieces are accepted, 8 are not.'],
    [
      'double',
      'Measure 125 of 5 000 pieces. 3 nonconforming pieces in the first sample: accepted; 7: not accepted. Between, 125 more are measured; of all together 8 nonconforming pieces are accepted, 9 are not.',
    ],
    [
      'reduced',
      'Measure 80 of 5 000 pieces. 3 nonconforming pieces are accepted, 6 are not; with 4 to 5 the lot is accepted, and inspection is normal again.',
    ],
    ['points', 'Measure 110 of 5 000 pieces. 3 nonconforming pieces are accepted, 4 are not.'],
  ] as const)('%s', (name, words) => expect(plain(planSentence(of(name), LOT))).toBe(words));

  // By hand: one of 25 pieces is the least that is 0.1 % or more; a sample of 24 misses it once in 25. None is 0.1 % or less.
  it('of a lot says the chances of whole pieces, as its plan was made for them', () => {
    const zero = planChoice.parse({ kind: 'zero-acceptance', refusedPercent: '0.1', riskPercent: '5' });
    expect(plain(chancesSentence(planFor(25, zero), 25))).toContain('one with 4 % in 4 %.');
    const points = { acceptedPercent: '0.1', producerRiskPercent: '1', refusedPercent: '1', consumerRiskPercent: '5' };
    const ofLot = planChoice.parse({ kind: 'two-point', ...points, of: 'lot' });
    expect(plain(chancesSentence(planFor(25, ofLot), 25))).toBe(
      'A lot with 0 % nonconforming is accepted 100 % of the time, one with 4 % in 4 %.',
    );
  });

  it('is short on a card', () => {
    expect(plain(planBriefly(of('double'), LOT))).toBe(
      'Measure 125 of 5 000 pieces, up to 3 accepted, 7 not; between, 250 in all, up to 8 accepted.',
    );
    expect(plain(planBriefly(of('variables'), LOT))).toMatch(
      /^Measure 42 of 5 000 pieces: mean and spread decide, k = 1\.9\d+; else 110 are counted, up to 3 accepted\.$/,
    );
    expect(planBriefly(of('single'), LOT)).toBe(planSentence(of('single'), LOT));
  });

  it('by variables says that counting takes its place', () => {
    expect(plain(planSentence(of('variables'), LOT))).toMatch(
      /^Measure 42 of 5 000 pieces\. Mean and spread decide: each limit at least k = 1\.9\d+ standard deviations .* 68 more pieces are measured and counted: 3 nonconforming pieces are accepted, 4 are not\.$/,
    );
    expect(planSource(of('variables'))).toContain('By variables');
    expect(planSource(of('known'))).toContain('spread known as 12');
    expect(planSource(of('variablesAql'))).toContain('MIL-STD-414, AQL 1.0, level IV');
  });

  it('every kind says where it comes from and what it lets pass, and no figure is missing', () => {
    for (const name of Object.keys(CHOICES)) {
      const plan = of(name);
      for (const words of [planSentence(plan, LOT), planSource(plan), chancesSentence(plan, LOT)]) {
        expect(words, name).not.toMatch(/NaN|undefined|null|Infinity/);
        expect(words.length, name).toBeGreaterThan(10);
      }
    }
    expect(chancesSentence(planFor(10, { kind: 'every-piece', accept: 0 }), 10)).toContain('Every piece is measured');
  });

  it('shows the points a plan was made by, within its risks', () => {
    for (const name of ['points', 'pointsOfLot', 'variables', 'known']) {
      const [good, bad] = shownPoints(of(name), LOT);
      expect([good?.share, bad?.share], name).toEqual([0.01, 0.06]);
      expect(good?.chance, name).toBeGreaterThanOrEqual(0.95 - 1e-9);
      expect(bad?.chance, name).toBeLessThanOrEqual(0.1 + 1e-9);
    }
    expect(shownPoints(of('zero'), LOT)[1]?.chance).toBeLessThanOrEqual(0.1);
  });
});

describe('the operating characteristic of a plan', () => {
  // Recomputed, MIL-STD-105E Tables X by citation from memory (check values, section 3.3): n 80, c 2 and n 200, c 7.
  it.each([
    ['agreed', 0.95, 0.0103],
    ['agreed', 0.1, 0.06516],
    ['single', 0.95, 0.02006],
    ['single', 0.1, 0.05815],
  ] as const)('of %s at %s is %s', (name, chance, share) =>
    expect(planQuality(of(name), LOT, chance)).toBeCloseTo(share, 4),
  );

  it('falls with the share of nonconforming pieces, from certain acceptance, and comes back from a chance', () => {
    for (const name of Object.keys(CHOICES)) {
      const plan = of(name);
      expect(planChance(plan, LOT, 0), name).toBe(1);
      const chances = [0.001, 0.01, 0.02, 0.05, 0.1, 0.3].map((share) => planChance(plan, LOT, share));
      for (const [index, chance] of chances.entries()) {
        expect(chance, name).toBeLessThanOrEqual((chances[index - 1] ?? 1) + 1e-12);
      }
      for (const chance of [0.95, 0.5, 0.1]) {
        const share = planQuality(plan, LOT, chance);
        expect(planChance(plan, LOT, share), name).toBeLessThanOrEqual(chance + 1e-9);
        expect(planChance(plan, LOT, Math.max(0, share - 1 / LOT)), name).toBeGreaterThanOrEqual(chance - 1e-9);
      }
    }
  });
});
