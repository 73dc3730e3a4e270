import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, shift } from '../quantity/decimal.ts';

/**
 * A quality in per cent nonconforming as an exact share.
 * @throws problem quality-percent-impossible unless above 0 and at most 100
 */
export function qualityShare(percent: DecimalText): Big {
  const share = shift(new Big(percent), -2);
  if (share.lte(0) || share.gt(1)) throw problem('quality-percent-impossible', percent);
  return share;
}

/**
 * A risk in per cent as an exact share.
 * @throws problem risk-percent-impossible unless above 0 and below 100
 */
export function riskShare(percent: DecimalText): Big {
  const share = shift(new Big(percent), -2);
  if (share.lte(0) || share.gte(1)) throw problem('risk-percent-impossible', percent);
  return share;
}

/**
 * How far a computed chance may miss its limit and still meets it, as a share: what its computation may be wrong by. So a
 * risk that is met to the digit is met.
 */
export const CHANCE_ACCURACY = 1e-12;

/** Whether a chance is at most a risk. */
export function isWithin(chance: number, risk: number): boolean {
  return chance <= risk * (1 + CHANCE_ACCURACY);
}
