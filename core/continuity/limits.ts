import Big from 'big.js';
import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { type DecimalText, decimalText } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import type { Expected } from './point.ts';

/** What counts as closed and what as open, in ohms; between the two it is neither. */
export const continuityLimits = z.object({ closedBelowOhms: decimalText, openAboveOhms: decimalText });
export type ContinuityLimits = z.infer<typeof continuityLimits>;

/** Ours: a wire or contact of a harness reads well below an ohm, and leads and tips add their own. */
export const USUAL_LIMITS: ContinuityLimits = { closedBelowOhms: '2', openAboveOhms: '1000000' };

/**
 * Ours. Below half an ohm a two-wire reading is mostly leads and contacts, which are only known to a tenth. Above ten megohms it says
 * more of fingers, moisture and the meter than of the wire; that is for an insulation tester.
 */
export const LEAST_CLOSED_OHMS = '0.5';
export const MOST_CLOSED_OHMS = '1000';
export const LEAST_OPEN_OHMS = '10000';
export const MOST_OPEN_OHMS = '10000000';

/** Why a limit cannot be used, in a clause; null where it can. */
export function limitFault(expected: Expected, ohms: DecimalText): string | null {
  const value = new Big(ohms);
  if (expected === 'closed') {
    if (value.lt(LEAST_CLOSED_OHMS)) {
      return `${formatOhms(value)} is less than ${formatOhms(LEAST_CLOSED_OHMS)}: a two-wire reading is mostly leads and contacts there; use an instrument for low resistance`;
    }
    return value.gt(MOST_CLOSED_OHMS)
      ? `${formatOhms(value)} is more than ${formatOhms(MOST_CLOSED_OHMS)}: what reads so much is no closed contact`
      : null;
  }
  if (value.lt(LEAST_OPEN_OHMS)) {
    return `${formatOhms(value)} is less than ${formatOhms(LEAST_OPEN_OHMS)}: what conducts so much is not open`;
  }
  return value.gt(MOST_OPEN_OHMS)
    ? `${formatOhms(value)} is more than ${formatOhms(MOST_OPEN_OHMS)}: that is for an insulation tester at its test voltage`
    : null;
}

/** @throws problem continuity-limits-wrong */
export function mustBeLimits({ closedBelowOhms, openAboveOhms }: ContinuityLimits): void {
  const why = limitFault('closed', closedBelowOhms) ?? limitFault('open', openAboveOhms);
  if (why !== null) throw problem('continuity-limits-wrong', why);
}
