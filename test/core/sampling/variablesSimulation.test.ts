import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { describe, expect, it } from 'vitest';
import { judgeByVariables } from '../../../core/sampling/variablesJudgement.ts';
import { chanceByVariables, qualityByVariables, type SampledByVariables } from '../../../core/sampling/variablesOc.ts';
import { normals } from '../statistics/seeded.ts';

const LOTS = 20_000;
const MEAN = 1000;
const SPREAD = 4;

/** Half the width of the 99.9 % interval around a chance that so many lots estimate. */
function within(chance: number): number {
  return 3.2905 * Math.sqrt((chance * (1 - chance)) / LOTS);
}

/** Seeded lots of a normal process with this share above the upper limit, each judged with one limit and with two 6 σ apart. */
function rates(plan: SampledByVariables, share: number, seed: number) {
  const normal = normals(seed);
  const z = -normalQuantile(share, 0, 1);
  const upper = (MEAN + z * SPREAD).toFixed(6);
  const lower = (MEAN + z * SPREAD - 6 * SPREAD).toFixed(6);
  const spreadOhms = plan.spread === 'known' ? String(SPREAD) : null;
  const accepted = { one: 0, two: 0, differently: 0 };
  for (let lot = 0; lot < LOTS; lot++) {
    // As a meter sends them: its last digit is 4000 times finer than the spread.
    const values = Array.from({ length: plan.sampleSize }, () => Number((MEAN + SPREAD * normal()).toFixed(3)));
    const one = judgeByVariables(values, { limits: { lower: null, upper }, plan, spreadOhms }).accepted;
    const two = judgeByVariables(values, { limits: { lower, upper }, plan, spreadOhms }).accepted;
    if (one) accepted.one++;
    if (two) accepted.two++;
    if (one !== two) accepted.differently++;
  }
  return { one: accepted.one / LOTS, two: accepted.two / LOTS, differently: accepted.differently / LOTS };
}

/*
 * Lots of a normal process, 20 000 seeded ones at each quality, against the computed operating characteristic. With two limits nearly all
 * nonconforming pieces lie above the upper one: the two curves then differ by fewer than 5 lots in 1000.
 */
describe.each([
  // MIL-STD-414, letter F, AQL 1.0.
  { sampleSize: 10, k: '1.72', spread: 'unknown', seed: 414 },
  // Two points, 1 % at 5 % and 6 % at 10 %.
  { sampleSize: 15, k: '1.8937', spread: 'known', seed: 3951 },
] as const)('20 000 lots judged with spread $spread, n $sampleSize, k $k', ({ seed, ...plan }) => {
  it.each([0.95, 0.5, 0.1])('are accepted as often as computed where that is %d', (chance) => {
    const share = Number(qualityByVariables(plan, chance).toPrecision(3));
    const expected = chanceByVariables(plan, share);
    const found = rates(plan, share, seed + Math.round(chance * 100));
    expect(Math.abs(found.one - expected)).toBeLessThan(within(expected));
    expect(Math.abs(found.two - expected)).toBeLessThan(within(expected));
    expect(found.differently).toBeLessThan(0.005);
    // A second limit never makes a lot acceptable.
    expect(found.two + found.differently).toBeCloseTo(found.one, 9);
  });
});
