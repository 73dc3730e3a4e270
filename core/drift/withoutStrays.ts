import { quartilesOf } from '../statistics/percentile.ts';
import { isRefused, sortedOf } from '../statistics/values.ts';

/** With fewer readings a quartile is too rough to call anything far off. Our choice. */
const LEAST_READINGS = 10;
/** What lies further from the quartiles than this many interquartile ranges is of another value: six standard deviations of a normal lot. */
const FAR = 4;

/**
 * Readings of a lot without those of quite another value: a single piece of the next decade would move the mean of the lot by
 * more than lots differ, and make its standard deviation that of the two values.
 * @throws problem figure-not-finite
 */
export function withoutStrays(ohms: readonly number[]): { kept: number[]; leftOut: number } {
  const quartiles = quartilesOf(sortedOf(ohms));
  if (ohms.length < LEAST_READINGS || isRefused(quartiles) || quartiles.interquartileRange === 0) {
    return { kept: [...ohms], leftOut: 0 };
  }
  const { lower, upper, interquartileRange } = quartiles;
  const reach = FAR * interquartileRange;
  const kept = ohms.filter((value) => value >= lower - reach && value <= upper + reach);
  return { kept, leftOut: ohms.length - kept.length };
}
