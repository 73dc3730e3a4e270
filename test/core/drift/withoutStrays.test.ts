import { describe, expect, it } from 'vitest';
import { lotToLot } from '../../../core/drift/lotToLot.ts';
import { withoutStrays } from '../../../core/drift/withoutStrays.ts';
import { summaryOf } from '../../../core/statistics/summary.ts';
import { isRefused } from '../../../core/statistics/values.ts';
import { normals } from '../statistics/seeded.ts';

/** A lot of 80 normal pieces of 10 Ω spread, of our own invention, with what else got on the reel. */
function lotOf(label: string, mean: number, seed: number, ...others: number[]) {
  const noise = normals(seed);
  const pieces = [...Array.from({ length: 80 }, () => mean + 10 * noise()), ...others];
  const { kept, leftOut } = withoutStrays(pieces);
  const summary = summaryOf(kept);
  if (isRefused(summary)) throw new Error(summary.refused);
  const { n, mean: meanOhms, standardDeviation: standardDeviationOhms } = summary;
  return { label, n, meanOhms, standardDeviationOhms, leftOut };
}

describe('a lot without pieces of quite another value', () => {
  it('is what it is with none there', () => {
    for (let seed = 1; seed <= 50; seed++) expect(lotOf('L', 4700, seed).leftOut).toBe(0);
    expect(lotOf('L', 4700, 1, 47_000, 470)).toEqual({ ...lotOf('L', 4700, 1), leftOut: 2 });
  });

  it('keeps both of two values, readings that are mostly equal, and the few of a small lot', () => {
    const two = [...Array.from({ length: 20 }, (_, i) => 100 + i), ...Array.from({ length: 20 }, (_, i) => 900 + i)];
    for (const ohms of [two, [...Array<number>(20).fill(100), 900], [1, 2, 3, 900], []]) {
      expect(withoutStrays(ohms)).toEqual({ kept: ohms, leftOut: 0 });
    }
  });

  it('does not hide a lot that moved behind a stray piece of an earlier one, and says what was left out', () => {
    const earlier = [1, 2, 3, 4, 5, 6].map((seed) => lotOf(`L${seed}`, 4700, seed, ...(seed === 3 ? [47_000] : [])));
    const good = lotToLot([...earlier, lotOf('L7', 4700, 7)]);
    expect(good.belongs, good.words).toBe(true);
    expect(good.notes).toContain('Pieces of quite another value, left out: 1 of lot L3.');
    const moved = lotToLot([...earlier, lotOf('L7', 4760, 7)]);
    expect(moved.belongs).toBe(false);
    expect(moved.words).toContain('its mean');
  });
});
