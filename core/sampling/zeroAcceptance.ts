import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { hypergeometricAtMost } from './hypergeometric.ts';
import { isWithin, qualityShare, riskShare } from './percent.ts';

/** A plan that accepts a lot only where its sample has no nonconforming piece. */
export interface ZeroAcceptancePlan {
  sampleSize: number;
  accept: 0;
  reject: 1;
  /** Nonconforming pieces in a lot that is just bad enough to be refused. */
  refusedPieces: number;
  /** Chance that such a lot is accepted all the same; 0 where every piece is measured. */
  chance: number;
}

/**
 * The smallest sample that, with acceptance number 0, accepts a lot of this size with at most this risk when as large a share of
 * it does not conform: exact for the lot (hypergeometric), no table. A share of the lot that is no whole number of pieces is
 * rounded up, since a lot with fewer is better than the quality to be refused. Every piece where nothing less will do. Source:
 * the definition (Schilling and Neubauer, Acceptance Sampling in Quality Control, on plans with c = 0; from memory).
 * @param lotSize pieces, a whole number from 1 up
 * @param refusedPercent quality to be refused, per cent nonconforming, above 0 to 100
 * @param riskPercent chance of accepting it, per cent, between 0 and 100
 * @throws problems lot-empty, quality-percent-impossible, risk-percent-impossible
 */
export function zeroAcceptancePlan(
  lotSize: number,
  refusedPercent: DecimalText,
  riskPercent: DecimalText,
): ZeroAcceptancePlan {
  if (!Number.isSafeInteger(lotSize) || lotSize < 1) throw problem('lot-empty', String(lotSize));
  const refusedPieces = qualityShare(refusedPercent).times(lotSize).round(0, Big.roundUp).toNumber();
  const risk = riskShare(riskPercent).toNumber();
  const chanceOf = (sampleSize: number) =>
    hypergeometricAtMost(0, { lotSize, nonconforming: refusedPieces, sampleSize });
  let [tooFew, enough] = [0, lotSize];
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (isWithin(chanceOf(middle), risk)) enough = middle;
    else tooFew = middle;
  }
  return { sampleSize: enough, accept: 0, reject: 1, refusedPieces, chance: chanceOf(enough) };
}
