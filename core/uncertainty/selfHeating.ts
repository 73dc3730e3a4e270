import Big from 'big.js';
import type { MeterRange } from '../accuracy/meterData.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';

/** What the meter's test current does to a piece. */
export interface SelfHeating {
  /** I²·R, exact. */
  watts: DecimalText;
  /** Of the rated power, 1 being all of it. */
  share: number;
  /** What to do about it, in words; null where it is little. */
  warning: string | null;
}

/** Above this share of its rated power a piece may warm enough to show it. Our choice. */
const WORTH_A_WARNING = '0.1';
const PER_CENT = 100;

/**
 * The power that a range's test current turns into heat in a piece, against its rating. Null where the test current or the
 * rating is not known.
 * @param ohms value of the piece
 */
export function selfHeating(
  ohms: DecimalText,
  range: Pick<MeterRange, 'testCurrentAmperes'> | null,
  ratedWatts: DecimalText | null,
): SelfHeating | null {
  const amperes = range?.testCurrentAmperes ?? null;
  if (amperes === null || ratedWatts === null) return null;
  const rated = new Big(ratedWatts);
  if (rated.lte(0)) return null;
  const watts = new Big(amperes).pow(2).times(new Big(ohms).abs());
  const share = Number(watts) / Number(rated);
  const warning = watts.gt(rated.times(WORTH_A_WARNING))
    ? `The test current of ${amperes} A turns ${inWords(Number(watts))} W into heat in the piece, ${inWords(share * PER_CENT)} % of its ${ratedWatts} W: it warms while it is read. Use a higher range, whose test current is smaller, or read quickly.`
    : null;
  return { watts: plain(watts), share, warning };
}

function inWords(value: number): string {
  return new Big(value.toPrecision(2)).toFixed();
}
