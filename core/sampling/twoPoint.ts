import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { hypergeometricAtMost } from './hypergeometric.ts';
import { chanceOfAcceptance } from './oc.ts';
import { CHANCE_ACCURACY, isWithin, qualityShare, riskShare } from './percent.ts';

/** The largest sample that is looked for. Our choice: nobody measures more by hand. */
export const MOST_PIECES = 100_000;

/** Two points that the operating characteristic of a plan is to pass: on or above the first, on or below the second. */
export interface TwoPoints {
  /** Quality to be accepted, per cent nonconforming. */
  acceptedPercent: DecimalText;
  /** Chance that such a lot is not accepted (α), per cent. */
  producerRiskPercent: DecimalText;
  /** Quality to be refused, per cent nonconforming. */
  refusedPercent: DecimalText;
  /** Chance that such a lot is accepted (β), per cent. */
  consumerRiskPercent: DecimalText;
  /** Lots from a process (binomial), or one lot of this many pieces (hypergeometric). */
  distribution: 'binomial' | { lotSize: number };
}

/** The plan found, with the chances of acceptance it has at the two points. */
export interface TwoPointPlan {
  sampleSize: number;
  accept: number;
  reject: number;
  chanceAccepted: number;
  chanceRefused: number;
}

/** Chances of acceptance at the two qualities. */
interface Chances {
  ofAccepted(sampleSize: number, accept: number): number;
  ofRefused(sampleSize: number, accept: number): number;
}

/**
 * The smallest single plan that accepts the better quality with a chance of at least 1 - α and the worse with at most β. For one
 * acceptance number after the other the smallest sample is found that refuses the worse quality; the first of which that
 * accepts the better one is the smallest of all, because those samples grow with the acceptance number and the chance
 * of acceptance falls with the sample. Source: W. C. Guenther, Use of the Binomial, Hypergeometric and Poisson Tables to Obtain
 * Sampling Plans, Journal of Quality Technology 1 (1969). For a lot, the better quality is rounded down to whole pieces and the
 * worse one up; where nothing less will do the sample is the whole lot.
 * @throws problems lot-empty, quality-percent-impossible, risk-percent-impossible, points-not-apart, plan-too-large
 */
export function twoPointPlan(points: TwoPoints): TwoPointPlan {
  const accepted = qualityShare(points.acceptedPercent);
  const refused = qualityShare(points.refusedPercent);
  if (accepted.gte(refused)) throw problem('points-not-apart', points.acceptedPercent, points.refusedPercent);
  const least = new Big(1).minus(riskShare(points.producerRiskPercent)).toNumber() * (1 - CHANCE_ACCURACY);
  const risk = riskShare(points.consumerRiskPercent).toNumber();
  const chances = chancesFor(points.distribution, accepted, refused);
  let sampleSize = 0;
  let step = 1;
  for (let accept = 0; ; accept++) {
    const next = smallestFrom(sampleSize + 1, step, (n) => isWithin(chances.ofRefused(n, accept), risk));
    if (next > MOST_PIECES) throw problem('plan-too-large', MOST_PIECES);
    step = next - sampleSize;
    sampleSize = next;
    const chanceAccepted = chances.ofAccepted(sampleSize, accept);
    if (chanceAccepted < least) continue;
    return {
      sampleSize,
      accept,
      reject: accept + 1,
      chanceAccepted,
      chanceRefused: chances.ofRefused(sampleSize, accept),
    };
  }
}

function chancesFor(distribution: TwoPoints['distribution'], accepted: Big, refused: Big): Chances {
  if (distribution === 'binomial') {
    const [better, worse] = [accepted.toNumber(), refused.toNumber()];
    return {
      ofAccepted: (sampleSize, accept) => chanceOfAcceptance({ sampleSize, accept }, better),
      ofRefused: (sampleSize, accept) => chanceOfAcceptance({ sampleSize, accept }, worse),
    };
  }
  const { lotSize } = distribution;
  if (!Number.isSafeInteger(lotSize) || lotSize < 1) throw problem('lot-empty', String(lotSize));
  const better = accepted.times(lotSize).round(0, Big.roundDown).toNumber();
  const worse = refused.times(lotSize).round(0, Big.roundUp).toNumber();
  return {
    ofAccepted: (sampleSize, accept) => hypergeometricAtMost(accept, { lotSize, nonconforming: better, sampleSize }),
    ofRefused: (sampleSize, accept) => hypergeometricAtMost(accept, { lotSize, nonconforming: worse, sampleSize }),
  };
}

/**
 * The smallest whole number from `first` on that is enough, where every larger one is too; above {@link MOST_PIECES} where none
 * up to it is.
 * @param guess how far from `first` it probably is
 */
function smallestFrom(first: number, guess: number, isEnough: (n: number) => boolean): number {
  let tooFew = first - 1;
  let enough = first - 1 + guess;
  for (let stride = 1; enough <= MOST_PIECES && !isEnough(enough); stride *= 2) {
    tooFew = enough;
    enough += stride;
  }
  for (let stride = 1; enough - tooFew > 1; ) {
    const below = enough - stride > tooFew ? enough - stride : Math.floor((tooFew + enough) / 2);
    if (below <= MOST_PIECES && !isEnough(below)) tooFew = below;
    else {
      enough = below;
      stride *= 2;
    }
    if (tooFew >= MOST_PIECES) return MOST_PIECES + 1;
  }
  return enough;
}
