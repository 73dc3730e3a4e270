import betainc from '@stdlib/math-base-special-betainc';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { doublePlan } from '../../../core/sampling/doublePlan.ts';
import { chanceInLot, chanceOfAcceptance, type Sampled } from '../../../core/sampling/oc.ts';
import { singlePlan } from '../../../core/sampling/singlePlan.ts';
import { twoPointPlan } from '../../../core/sampling/twoPoint.ts';
import { zeroAcceptancePlan } from '../../../core/sampling/zeroAcceptance.ts';

const LOTS = 20_000;

// The share of accepted lots must lie within the central 99.9 % of the binomial distribution around the computed chance. Right
// chances would miss that in 1 of 1000 comparisons; with the 24 comparisons below some seed would do so in at most 2.4 %
// (union bound). The seeds are fixed, so this either always holds or never.
const OUTSIDE = 0.001;

const atMost = (most: number, tries: number, share: number) =>
  most >= tries ? 1 : most < 0 ? 0 : betainc(share, most + 1, tries - most, true, true);

/** Whether so many of the lots are no surprise where each is accepted with this chance. */
function isNoSurprise(accepted: number, chance: number): boolean {
  if (chance <= 0 || chance >= 1) return accepted === LOTS * chance;
  const below = atMost(accepted, LOTS, chance);
  const above = 1 - atMost(accepted - 1, LOTS, chance);
  return below > OUTSIDE / 2 && above > OUTSIDE / 2;
}

/** Draws pieces one by one; true: it does not conform. */
type Draw = () => boolean;

/** The counts decide as the plan says, taken one piece after the other: nothing here knows of the curves. */
function isAccepted(sampled: Sampled, draw: Draw): boolean {
  const { sampleSize, accept, reject = accept + 1, further } = sampled;
  let found = 0;
  for (let piece = 0; piece < sampleSize; piece++) if (draw()) found++;
  if (found <= accept) return true;
  if (!further || found >= reject) return found < reject;
  for (let piece = 0; piece < further.sampleSize; piece++) if (draw()) found++;
  return found < further.reject;
}

/** Quality of the process in millionths, or nonconforming pieces in a lot. */
type Quality = { millionths: number } | { lotSize: number; nonconforming: number };

function acceptedLots(sampled: Sampled, quality: Quality, seed: number): number {
  const random = xoroshiro128plus(seed);
  let accepted = 0;
  for (let lot = 0; lot < LOTS; lot++) {
    let { left, bad } =
      'millionths' in quality
        ? { left: 1_000_000, bad: quality.millionths }
        : { left: quality.lotSize, bad: quality.nonconforming };
    const fromProcess = 'millionths' in quality;
    const draw = () => {
      const isBad = uniformInt(random, 1, left) <= bad;
      if (!fromProcess) {
        left--;
        if (isBad) bad--;
      }
      return isBad;
    };
    if (isAccepted(sampled, draw)) accepted++;
  }
  return accepted;
}

function twice(severity: 'normal' | 'reduced', letter: string, aql: string): Sampled {
  const plan = doublePlan(severity, letter, aql);
  if (plan.kind === 'single') throw new Error('there is a double plan in this cell');
  return { ...plan.first, further: { kind: 'second-sample', ...plan.second } };
}

const ofProcess = (...millionths: number[]): Quality[] => millionths.map((each) => ({ millionths: each }));
const lots = (lotSize: number, ...bad: number[]): Quality[] => bad.map((nonconforming) => ({ lotSize, nonconforming }));
const points = { acceptedPercent: '1', producerRiskPercent: '5', refusedPercent: '6', consumerRiskPercent: '10' };

// A good lot, one in doubt and a bad one for each plan.
const PLANS: [string, Sampled, Quality[]][] = [
  ['single, normal', singlePlan('MIL-STD-105E', 'normal', 'J', '1.0'), ofProcess(10_000, 33_000, 65_000)],
  ['single, tightened', singlePlan('MIL-STD-105E', 'tightened', 'J', '1.0'), ofProcess(5_000, 20_000, 48_000)],
  [
    'single, reduced, with a gap',
    singlePlan('MIL-STD-105E', 'reduced', 'K', '1.0'),
    ofProcess(20_000, 73_000, 130_000),
  ],
  ['double, normal', twice('normal', 'J', '1.5'), ofProcess(15_000, 45_000, 80_000)],
  ['double, reduced, with gaps', twice('reduced', 'K', '1.0'), ofProcess(20_000, 75_000, 130_000)],
  ['zero acceptance', zeroAcceptancePlan(1000, '5', '10'), lots(1000, 2, 15, 50)],
  ['two points of a process', twoPointPlan({ ...points, distribution: 'binomial' }), ofProcess(10_000, 33_000, 60_000)],
  ['two points of a lot', twoPointPlan({ ...points, distribution: { lotSize: 500 } }), lots(500, 5, 17, 30)],
];

describe(`${LOTS} simulated lots`, () => {
  it.each(PLANS)('%s: as many are accepted as the operating characteristic says', (_, sampled, qualities) => {
    qualities.forEach((quality, index) => {
      const chance =
        'millionths' in quality
          ? chanceOfAcceptance(sampled, quality.millionths / 1_000_000)
          : chanceInLot(sampled, quality);
      expect(chance).toBeGreaterThan(0.001);
      const accepted = acceptedLots(sampled, quality, 1 + index);
      expect(isNoSurprise(accepted, chance), `${accepted} accepted, chance ${chance}`).toBe(true);
    });
  });

  it('would tell a plan from its neighbours: one more or one less accepted, one piece in ten more', () => {
    const [, sampled] = PLANS[0] as (typeof PLANS)[number];
    const { sampleSize, accept } = sampled;
    const accepted = acceptedLots(sampled, { millionths: 33_000 }, 2);
    const neighbours = [
      { sampleSize, accept: accept + 1 },
      { sampleSize, accept: accept - 1 },
      { sampleSize: sampleSize + 8, accept },
    ];
    for (const neighbour of neighbours) {
      expect(isNoSurprise(accepted, chanceOfAcceptance(neighbour, 0.033))).toBe(false);
    }
  });
});
