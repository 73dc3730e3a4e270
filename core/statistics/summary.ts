import { DecimalDifference } from './decimalDifference.ts';
import { DoubleDouble } from './doubleDouble.ts';
import { RunningSummary } from './runningSummary.ts';
import type { Refused, Values } from './values.ts';

/** What a set of readings comes to, all in the unit of the readings. */
export interface Summary {
  n: number;
  mean: number;
  /** With n - 1; null for a single reading. */
  standardDeviation: number | null;
  lowest: number;
  highest: number;
  range: number;
}

/**
 * Number, mean, standard deviation, lowest, highest and range.
 * @throws problem figure-not-finite where a value is no finite number
 */
export function summaryOf(values: Values): Summary | Refused {
  const running = new RunningSummary();
  for (let i = 0; i < values.length; i++) running.add(values[i] as number);
  return running.summary();
}

/**
 * How much each reading resembles the one before, -1 to 1: Σ(yᵢ-m)(yᵢ₊₁-m) / Σ(yᵢ-m)².
 * Source: NIST/SEMATECH e-Handbook 1.3.3.1, and the definition of the Statistical Reference Datasets.
 */
export function lag1Autocorrelation(inOrder: Values): { coefficient: number } | Refused {
  const n = inOrder.length;
  if (n < 3) return { refused: `Whether neighbours resemble each other takes at least 3 readings; there are ${n}.` };
  const difference = new DecimalDifference(inOrder[0] as number);
  const sum = new DoubleDouble();
  for (let i = 0; i < n; i++) sum.add(difference.of(inOrder[i] as number));
  const mean = sum.value / n;
  const products = new DoubleDouble();
  const squares = new DoubleDouble();
  let before = 0;
  for (let i = 0; i < n; i++) {
    const deviation = difference.of(inOrder[i] as number) - mean;
    products.add(before * deviation);
    squares.addSquare(deviation);
    before = deviation;
  }
  if (!(squares.value > 0)) return { refused: 'All readings are equal, so none resembles another more or less.' };
  return { coefficient: products.value / squares.value };
}
