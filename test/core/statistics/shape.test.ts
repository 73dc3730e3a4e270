import { describe, expect, it } from 'vitest';
import { type ShapeKind, shapeOf } from '../../../core/statistics/shape.ts';
import { type Limits, sortedOf } from '../../../core/statistics/values.ts';
import { normals, seeded } from './seeded.ts';

/*
 * Invented lots: no published figures exist for these shapes. The critical values come from our own simulation; here its
 * false alarms are counted anew with other seeds, and clear cases of each shape must be told.
 */

const WINDOW: Limits = { nominal: 0, lower: -3, upper: 3 };

/** How often each kind is seen, of so many lots. */
function seen(lots: number, n: number, limits: Limits, piece: () => number, resolution: number | null = null) {
  const kinds = new Map<ShapeKind, number>();
  for (let lot = 0; lot < lots; lot++) {
    const { kind, quoteCapability, words, evidence } = shapeOf(
      sortedOf(Float64Array.from({ length: n }, piece)),
      limits,
      resolution,
    );
    expect(quoteCapability).toBe(kind === 'normal-like');
    expect(words.length).toBeGreaterThan(20);
    for (const { value } of evidence) expect(Number.isFinite(value)).toBe(true);
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  }
  return (kind: ShapeKind) => kinds.get(kind) ?? 0;
}

function drawUntil(draw: () => number, taken: (value: number) => boolean): () => number {
  return () => {
    for (;;) {
      const value = draw();
      if (taken(value)) return value;
    }
  };
}

describe('a normal lot', () => {
  // At most about 1 in 100 is to be called something else; the bound leaves four standard errors.
  it.each([
    [30, 1500],
    [50, 1500],
    [100, 1500],
    [300, 800],
    [1000, 300],
  ])('of %i pieces is seldom called anything else', (n, lots) => {
    const normal = normals(100 + n);
    const alarms = lots - seen(lots, n, WINDOW, normal)('normal-like');
    expect(alarms).toBeLessThan(0.01 * lots + 4 * Math.sqrt(0.01 * lots));
  });

  it('is not mistaken for the meter’s steps', () => {
    const normal = normals(31);
    const rounded = () => Math.round(normal() / 0.5) * 0.5;
    expect(seen(200, 500, WINDOW, rounded)('normal-like')).toBeGreaterThan(194);
    expect(seen(200, 500, WINDOW, rounded, 0.01)('normal-like')).toBeGreaterThan(194);
    expect(seen(5, 20000, WINDOW, rounded, 0.5)('normal-like')).toBe(5);
  });

  it('stays normal with a piece that stands apart, and says so', () => {
    const normal = normals(32);
    const values = Float64Array.from({ length: 200 }, normal);
    values[100] = 15;
    const shape = shapeOf(sortedOf(values), WINDOW);
    expect(shape.kind).toBe('normal-like');
    expect(shape.words).toMatch(/a piece that stands apart/);
  });
});

describe('the shapes of the trade', () => {
  const normal = normals(41);
  const uniform = seeded(42);
  const narrow: Limits = { nominal: 0, lower: -1, upper: 1 };
  const wide: Limits = { nominal: 3, lower: -9, upper: 9 };

  it.each<[string, number, ShapeKind, Limits, () => number, number]>([
    ['the middle picked out', 50, 'hole-in-the-middle', WINDOW, drawUntil(normal, (x) => Math.abs(x) > 0.5), 0.95],
    ['the middle picked out', 1000, 'hole-in-the-middle', WINDOW, drawUntil(normal, (x) => Math.abs(x) > 0.5), 1],
    [
      'a few of the middle left',
      100,
      'hole-in-the-middle',
      WINDOW,
      drawUntil(normal, (x) => Math.abs(x) > 0.5 || uniform() < 0.1),
      0.9,
    ],
    ['sorted to the limits', 100, 'cut-tails', narrow, drawUntil(normal, (x) => Math.abs(x) < 1), 0.85],
    ['sorted to the limits', 1000, 'cut-tails', narrow, drawUntil(normal, (x) => Math.abs(x) < 1), 0.98],
    ['evenly over the window', 300, 'cut-tails', narrow, () => 2 * uniform() - 1, 0.95],
    ['cut above', 300, 'one-tail-cut', { nominal: -1, lower: -5, upper: 0.5 }, drawUntil(normal, (x) => x < 0.5), 0.95],
    [
      'cut below, one limit',
      300,
      'one-tail-cut',
      { nominal: null, lower: 0, upper: null },
      drawUntil(normal, (x) => x > 0),
      0.95,
    ],
    ['two reels, half and half', 50, 'two-populations', wide, () => normal() + (uniform() < 0.5 ? -3 : 3), 0.95],
    ['two reels, one in five', 300, 'two-populations', WINDOW, () => normal() + (uniform() < 0.2 ? 5 : 0), 0.95],
    ['another value mixed in', 300, 'two-populations', WINDOW, () => normal() + (uniform() < 0.05 ? 50 : 0), 0.85],
    ['a long tail', 300, 'skewed-or-long-tailed', WINDOW, () => Math.exp(0.5 * normal()), 0.93],
    [
      'tails on both sides',
      1000,
      'skewed-or-long-tailed',
      WINDOW,
      () => normal() / Math.sqrt((normal() ** 2 + normal() ** 2 + normal() ** 2) / 3),
      0.9,
    ],
  ])('%s, %i pieces: %s', (_, n, kind, limits, piece, share) => {
    const lots = 60;
    expect(seen(lots, n, limits, piece)(kind)).toBeGreaterThanOrEqual(Math.floor(share * lots));
  });

  it('is told alike from a million readings as from two thousand', () => {
    const values = sortedOf(
      Float64Array.from(
        { length: 1e6 },
        drawUntil(normal, (x) => Math.abs(x) > 0.5),
      ),
    );
    expect(shapeOf(values, WINDOW).kind).toBe('hole-in-the-middle');
    // One in a thousand of another value is left to the outliers.
    expect(shapeOf(sortedOf(Float64Array.from({ length: 1e5 }, normal)), WINDOW).kind).toBe('normal-like');
  });

  it('is the same in other units', () => {
    const values = Float64Array.from(
      { length: 200 },
      drawUntil(normal, (x) => Math.abs(x) > 0.5),
    );
    const limits = { nominal: 4700, lower: 4700 - 33, upper: 4700 + 33 };
    const plain = shapeOf(sortedOf(values), WINDOW);
    const moved = shapeOf(sortedOf(values.map((value) => 4700 + 11 * value)), limits);
    expect(moved.kind).toBe(plain.kind);
  });

  it('needs a middle to have a hole in it', () => {
    const values = sortedOf(
      Float64Array.from(
        { length: 200 },
        drawUntil(normal, (x) => Math.abs(x) > 0.8),
      ),
    );
    expect(shapeOf(values, { nominal: null, lower: -3, upper: null }).kind).toBe('two-populations');
  });
});

describe('what cannot be told', () => {
  it('is said: too few, all equal, too coarse', () => {
    const normal = normals(51);
    expect(shapeOf(sortedOf([]), WINDOW).kind).toBe('too-few');
    expect(shapeOf(sortedOf([1]), WINDOW).kind).toBe('too-few');
    expect(shapeOf(sortedOf(Array.from({ length: 29 }, normal)), WINDOW).kind).toBe('too-few');
    expect(shapeOf(sortedOf(new Array(100).fill(4.7)), WINDOW).kind).toBe('all-equal');
    const coarse = Array.from({ length: 100 }, () => Math.round(normal()));
    expect(shapeOf(sortedOf(coarse), WINDOW).kind).toBe('too-coarse');
    const nearlyEqual = [...new Array(5000).fill(4.7), 4.71];
    for (const resolution of [null, 0, 0.01]) {
      const shape = shapeOf(sortedOf(nearlyEqual), WINDOW, resolution);
      expect(shape.kind).toBe('too-coarse');
      expect(shape.evidence.every(({ value }) => Number.isFinite(value))).toBe(true);
    }
  });
});
