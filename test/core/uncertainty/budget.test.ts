import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combine, coverageFactor, DIVISORS, type Distribution, type Input } from '../../../core/uncertainty/budget.ts';

/** An input by its standard uncertainty; the words do not matter here. */
function input(standardUncertainty: number, sensitivity = 1, degreesOfFreedom: number | null = null): Input {
  return {
    name: `u ${standardUncertainty}`,
    source: 'test',
    given: String(standardUncertainty),
    distribution: 'normal',
    divisor: 1,
    standardUncertainty,
    unit: '',
    sensitivity,
    degreesOfFreedom,
  };
}

function halfWidth(distribution: Exclude<Distribution, 'normal'>, half: number, sensitivity = 1): Input {
  return { ...input(half / DIVISORS[distribution], sensitivity), distribution, divisor: DIVISORS[distribution] };
}

const all = (size: number, r: number) =>
  Array.from({ length: size }, (_, i) => Array.from({ length: size }, (_, j) => (i === j ? 1 : r)));

describe('worked examples of JCGM 100:2008', () => {
  it('H.1, end gauge: u 32 nm, 16 degrees of freedom, U99 93 nm (secondary source for u; the rest recomputed)', () => {
    const budget = combine([input(25, 1, 18), input(9.7, 1, 25.6), input(2.9, 1, 50), input(16.6, 1, 2)], {
      coverageProbability: 0.99,
    });
    expect(budget.combinedOhms).toBeCloseTo(31.671, 3);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(16.77, 1);
    expect(budget.coverageFactor).toBeCloseTo(2.92, 2);
    // The guide rounds u to 32 nm and k to 2.92 first and prints 93 nm; unrounded it is a little less.
    expect(budget.expandedOhms).toBeGreaterThan(92);
    expect(budget.expandedOhms).toBeLessThan(93.5);
  });

  it('H.1.3.2, the difference measured: u 9.7 nm, 25.6 degrees of freedom (from memory, recomputed)', () => {
    const budget = combine([input(5.8, 1, 24), input(3.9, 1, 5), input(6.7, 1, 8)]);
    expect(budget.combinedOhms).toBeCloseTo(9.682, 3);
    // The guide puts the rounded 9.7 nm into the formula.
    const rounded = (budget.effectiveDegreesOfFreedom as number) * (9.7 / budget.combinedOhms) ** 4;
    expect(rounded).toBeCloseTo(25.638, 3);
  });

  it('H.2, resistance, reactance and impedance from correlated means (Table H.4; data from a secondary source)', () => {
    const volts = [5.007, 4.994, 5.005, 4.99, 4.999];
    const milliamperes = [19.663, 19.639, 19.64, 19.685, 19.678];
    const radians = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
    const data = [volts, milliamperes, radians];
    const means = data.map(meanOf);
    const u = data.map((one) => Math.sqrt(covariance(one, one)));
    const correlations = data.map((a, i) =>
      data.map((b, j) => (i === j ? 1 : covariance(a, b) / ((u[i] as number) * (u[j] as number)))),
    );
    expect(correlations[0]?.[1]).toBeCloseTo(-0.3553, 3);
    expect(correlations[0]?.[2]).toBeCloseTo(0.8576, 3);
    expect(correlations[1]?.[2]).toBeCloseTo(-0.6451, 3);

    const of = (result: (v: number, i: number, phi: number) => number) =>
      combine(
        means.map((mean, i) => {
          const step = mean * 1e-6;
          const at = (by: number) => result(...(means.with(i, mean + by) as [number, number, number]));
          return input(u[i] as number, (at(step) - at(-step)) / (2 * step), 4);
        }),
        { correlations },
      );
    const resistance = of((v, i, phi) => (v / (i / 1000)) * Math.cos(phi));
    const reactance = of((v, i, phi) => (v / (i / 1000)) * Math.sin(phi));
    const impedance = of((v, i) => v / (i / 1000));
    expect(resistance.combinedOhms).toBeCloseTo(0.071071, 5);
    expect(reactance.combinedOhms).toBeCloseTo(0.295582, 5);
    expect(impedance.combinedOhms).toBeCloseTo(0.236336, 5);
    expect(resistance.effectiveDegreesOfFreedom).toBe(4);
    expect(resistance.notes.join()).toContain('correlated');
  });

  it('H.3, a calibration line read at 30 °C: u 0.0041 °C, 9 degrees of freedom (secondary source)', () => {
    const budget = combine([input(0.0028776, 1, 9), input(0.0006679, 30 - 20, 9)], {
      correlations: [
        [1, -0.93043],
        [-0.93043, 1],
      ],
    });
    expect(budget.combinedOhms).toBeCloseTo(0.0041386, 6);
    expect(budget.effectiveDegreesOfFreedom).toBe(9);
  });

  it('4.3.4, a 10 ohm standard certified to 129 microohm at 99 %: u 50 microohm (from memory, recomputed)', () => {
    const divisor = coverageFactor(null, 0.99);
    expect(divisor).toBeCloseTo(2.58, 2);
    const u = combine([input(129e-6 / divisor)]).combinedOhms;
    expect(u).toBeCloseTo(50e-6, 6);
    expect(u / 10.000742).toBeCloseTo(5.0e-6, 7);
  });

  it('5.2.2, ten 1000 ohm resistors compared with one standard: 1 ohm, and 0.32 ohm were they independent (from memory, recomputed)', () => {
    const ten = Array.from({ length: 10 }, () => input(0.1));
    expect(combine(ten, { correlations: all(10, 1) }).combinedOhms).toBeCloseTo(1, 12);
    expect(combine(ten).combinedOhms).toBeCloseTo(0.316, 3);
    expect(combine(ten, { correlations: all(10, 0) }).combinedOhms).toBeCloseTo(Math.sqrt(0.1), 12);
  });

  it('G.4.1, a product of three: u 1.03 %, 19.0 degrees of freedom, U95 2.2 % (from memory, recomputed)', () => {
    const budget = combine([input(0.25, 1, 9), input(0.57, 1, 4), input(0.82, 1, 14)], { coverageProbability: 0.95 });
    expect(budget.combinedOhms).toBeCloseTo(1.0295, 3);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(19.0, 1);
    expect(budget.coverageFactor).toBeCloseTo(2.093, 3);
    expect(budget.expandedOhms).toBeCloseTo(2.156, 2);
  });

  // Table G.2, columns 68.27, 95 and 95.45 % (from memory, recomputed).
  it.each([
    [1, 1.84, 12.71, 13.97],
    [2, 1.32, 4.3, 4.53],
    [5, 1.11, 2.57, 2.65],
    [9, 1.06, 2.26, 2.32],
    [10, 1.05, 2.23, 2.28],
    [20, 1.03, 2.09, 2.13],
    [50, 1.01, 2.01, 2.05],
  ])('Table G.2, %i degrees of freedom', (degrees, one, ninetyFive, two) => {
    expect(coverageFactor(degrees, 0.6827).toFixed(2)).toBe(one.toFixed(2));
    expect(coverageFactor(degrees, 0.95).toFixed(2)).toBe(ninetyFive.toFixed(2));
    expect(coverageFactor(degrees).toFixed(2)).toBe(two.toFixed(2));
  });
});

describe('other published budgets', () => {
  it('EA-4/02 M:2022, S3, a 10 kohm standard by substitution: u 8.33 milliohm, U 17 milliohm with k 2 (inputs from memory)', () => {
    const budget = combine([
      { ...input(0.005 / 2), divisor: 2 },
      halfWidth('rectangular', 0.01),
      halfWidth('rectangular', 0.00275),
      halfWidth('rectangular', 0.0055, -1),
      halfWidth('triangular', 1.0e-6, 10_000),
      input(0.07e-6, 10_000, 4),
    ]);
    expect(budget.combinedOhms).toBeCloseTo(0.00833, 5);
    expect(budget.coverageFactor).toBeCloseTo(2, 3);
    expect(budget.expandedOhms).toBeCloseTo(0.017, 3);
    expect(budget.contributions[4]?.standardUncertainty).toBeCloseTo(0.41e-6, 8);
    expect(budget.contributions.map(({ ohms }) => (ohms * 1000).toFixed(1))).toEqual([
      '2.5',
      '5.8',
      '1.6',
      '3.2',
      '4.1',
      '0.7',
    ]);
  });

  it('resolution 1 milliohm: 0.29 milliohm; certificate 20 milliohm with k 2: 10 milliohm (WMO CIMO ohmmeter budget)', () => {
    expect(combine([halfWidth('rectangular', 0.0005)]).combinedOhms).toBeCloseTo(0.29e-3, 5);
    expect(combine([input(0.02 / 2)]).combinedOhms).toBeCloseTo(0.01, 12);
  });

  it('half-widths: rectangular, triangular and U-shaped have the standard deviations of their densities', () => {
    // By the midpoint rule over the densities themselves, the U-shaped one being the sine of a uniform phase.
    const steps = 100_000;
    const deviation = (value: (share: number) => number, weight: (share: number) => number) => {
      let [squares, weights] = [0, 0];
      for (let i = 0; i < steps; i++) {
        const share = (i + 0.5) / steps;
        squares += value(share) ** 2 * weight(share);
        weights += weight(share);
      }
      return Math.sqrt(squares / weights);
    };
    const across = (share: number) => 2 * share - 1;
    expect(1 / DIVISORS.rectangular).toBeCloseTo(
      deviation(across, () => 1),
      8,
    );
    expect(1 / DIVISORS.triangular).toBeCloseTo(
      deviation(across, (share) => 1 - Math.abs(across(share))),
      8,
    );
    expect(1 / DIVISORS['u-shaped']).toBeCloseTo(
      deviation(
        (share) => Math.sin(2 * Math.PI * share),
        () => 1,
      ),
      8,
    );
  });
});

describe('what a budget always holds to', () => {
  const inputs = fc.array(
    fc
      .tuple(
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        fc.double({ min: -10, max: 10, noNaN: true }),
        fc.option(fc.integer({ min: 1, max: 200 })),
      )
      .map(([u, c, degrees]) => input(u, c, degrees)),
    { minLength: 1, maxLength: 8 },
  );

  it('shares come to 100 %, the order does not matter, and k is never below 2', () => {
    fc.assert(
      fc.property(inputs, (given_) => {
        const budget = combine(given_);
        const sum = budget.contributions.reduce((total, { sharePercent }) => total + sharePercent, 0);
        if (budget.combinedOhms > 0) expect(sum).toBeCloseTo(100, 6);
        else expect(sum).toBe(0);
        expect(combine(given_.toReversed()).combinedOhms).toBeCloseTo(budget.combinedOhms, 6);
        expect(budget.coverageFactor).toBeGreaterThanOrEqual(2 - 1e-12);
        expect(Object.values(budget).every((one) => typeof one !== 'number' || Number.isFinite(one))).toBe(true);
      }),
    );
  });

  it('Welch-Satterthwaite lies between the fewest degrees of freedom and the sum of all (G.4.1)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0.1, max: 10, noNaN: true }), fc.integer({ min: 1, max: 60 })), {
          minLength: 1,
          maxLength: 6,
        }),
        (pairs) => {
          const degrees = combine(pairs.map(([u, nu]) => input(u, 1, nu))).effectiveDegreesOfFreedom as number;
          expect(degrees).toBeGreaterThanOrEqual(Math.min(...pairs.map(([, nu]) => nu)) * (1 - 1e-9));
          expect(degrees).toBeLessThanOrEqual(pairs.reduce((sum, [, nu]) => sum + nu, 0) * (1 + 1e-9));
        },
      ),
    );
  });

  it('k is 2.00 with infinitely many degrees of freedom, and never too small with many', () => {
    expect(coverageFactor(null)).toBeCloseTo(2, 12);
    expect(coverageFactor(null, 0.95)).toBeCloseTo(1.96, 2);
    // Truncated, not rounded: 16.9 counts as 16. Yet what the guide prints as 19.0 counts as 19 (G.4.1).
    expect(coverageFactor(18.96)).toBe(coverageFactor(19));
    expect(coverageFactor(16.9)).toBe(coverageFactor(16));
    expect(coverageFactor(0.5)).toBe(coverageFactor(1));
    expect(coverageFactor(123_456)).toBe(coverageFactor(120_000));
    expect(coverageFactor(1e12)).toBeGreaterThanOrEqual(2);
    expect(coverageFactor(1e12)).toBeLessThan(2.00001);
  });

  it('nothing uncertain gives U = 0', () => {
    const budget = combine([input(0), input(0, 1, 3)]);
    expect(budget.combinedOhms).toBe(0);
    expect(budget.expandedOhms).toBe(0);
    expect(budget.effectiveDegreesOfFreedom).toBeNull();
    expect(budget.contributions.map(({ sharePercent }) => sharePercent)).toEqual([0, 0]);
    expect(combine([]).expandedOhms).toBe(0);
  });

  it('full negative correlation cancels', () => {
    const budget = combine([input(0.1), input(0.1)], { correlations: all(2, -1) });
    expect(budget.combinedOhms).toBe(0);
    const same = combine([input(0.3), input(0.1)], { correlations: all(2, -1) });
    expect(same.combinedOhms).toBeCloseTo(0.2, 12);
    expect(same.contributions[1]?.sharePercent).toBeLessThan(0);
  });

  it('refuses what is no budget', () => {
    expect(() => combine([input(Number.NaN)])).toThrow('budget-unusable');
    expect(() => combine([input(-1)])).toThrow('budget-unusable');
    expect(() => combine([input(1, Number.POSITIVE_INFINITY)])).toThrow('budget-unusable');
    expect(() => combine([input(1, 1, 0)])).toThrow('budget-unusable');
    expect(() => combine([input(1)], { coverageProbability: 1 })).toThrow('budget-unusable');
    expect(() => combine([input(1), input(1)], { correlations: [[1]] })).toThrow('budget-unusable');
    expect(() => combine([input(1), input(1)], { correlations: all(2, 1.1) })).toThrow('budget-unusable');
    const lopsided = [
      [1, 0.5],
      [0.4, 1],
    ];
    expect(() => combine([input(1), input(1)], { correlations: lopsided })).toThrow('budget-unusable');
    // Three cannot all be opposite to each other.
    expect(() => combine([input(1), input(1), input(1)], { correlations: all(3, -1) })).toThrow('contradict');
  });
});

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Covariance of the means (JCGM 100:2008, 5.2.3). */
function covariance(a: readonly number[], b: readonly number[]): number {
  const [meanA, meanB] = [meanOf(a), meanOf(b)];
  const sum = a.reduce((total, value, i) => total + (value - meanA) * ((b[i] as number) - meanB), 0);
  return sum / (a.length * (a.length - 1));
}
