import { andersonDarling } from '../statistics/andersonDarling.ts';
import { representativesOf } from '../statistics/representatives.ts';
import { shapeOf } from '../statistics/shape.ts';
import { stepOf } from '../statistics/step.ts';
import { summaryOf } from '../statistics/summary.ts';
import { isRefused, type Limits, type SortedValues } from '../statistics/values.ts';

/** Whether a lot may be decided by mean and spread, in words where not, or where that could not be told. */
export type ShapeForVariables = { allowed: true; words: string | null } | { allowed: false; why: string };

/** Few pieces are called not normal below this p: the same as of many in core/statistics/shape.ts. Our choice. */
const LEAST_P = 0.002;

/**
 * Whether sampling by variables may be used: the method takes the values to be normal (MIL-STD-414, A1 and A3; ISO 3951-1, scope), so
 * a sorted, mixed, skewed or coarsely read lot is to be decided by counting.
 *
 * From 30 values on by their shape; from 8 to 29 by Anderson and Darling's test alone, which finds only what is far from normal; with
 * fewer nothing can be told and it is allowed, with words that say so. All values equal: allowed, since the meter's last digit is at
 * most a tenth of the window and so is the spread.
 * @param sorted the readings that count
 * @param resolution what the meter's last digit is worth; null where it is not known
 * @throws problem figure-not-finite
 */
export function shapeForVariables(
  sorted: SortedValues,
  limits: Limits,
  resolution: number | null = null,
): ShapeForVariables {
  const shape = shapeOf(sorted, limits, resolution);
  if (shape.quoteCapability) return { allowed: true, words: null };
  if (shape.kind === 'all-equal') return { allowed: true, words: shape.words };
  if (shape.kind === 'too-few') return fewValues(sorted, resolution);
  return { allowed: false, why: `${shape.words} Decide this lot by counting nonconforming pieces.` };
}

function fewValues(sorted: SortedValues, resolution: number | null): ShapeForVariables {
  const values = representativesOf(sorted, stepOf(sorted, resolution));
  const summary = summaryOf(values);
  const test = isRefused(summary) ? summary : andersonDarling(values, summary);
  if (isRefused(test)) {
    return {
      allowed: true,
      words: `${sorted.length} pieces cannot show whether the values are normal; that they are is taken for granted.`,
    };
  }
  if (test.pValue >= LEAST_P) {
    return {
      allowed: true,
      words: `As far as ${sorted.length} pieces can show, the values may be normal; a sorted or mixed lot would often not be found with so few.`,
    };
  }
  const why = `The values do not look normal (Anderson-Darling ${test.adjusted.toFixed(2)}; normal ones exceed 1.32 twice in 1000): sampling by variables would mislead. Decide this lot by counting nonconforming pieces.`;
  return { allowed: false, why };
}
