import type { DecimalText } from '../quantity/decimal.ts';

/**
 * How a marking can be meant: colour bands; a letter in place of the decimal point (IEC 60062); two figures and a
 * multiplier; three figures and a multiplier; a code of EIA-96; the value in plain figures; a zero-ohm link.
 */
export type Scheme = 'bands' | 'letter-code' | 'three-digit' | 'four-digit' | 'eia-96' | 'plain' | 'jumper';

/** One meaning of a marking. What the marking does not say is null and never guessed. */
export interface Marked {
  /** Exact. */
  ohms: DecimalText;
  /** ± so many per cent of the value. */
  tolerancePercent: DecimalText | null;
  /** Temperature coefficient, ± so many ppm for each kelvin. */
  ppmPerKelvin: DecimalText | null;
  scheme: Scheme;
  /** How it was read, piece by piece, ending in the value. */
  words: string;
  /** What a person should know before relying on it: whole sentences, often none. */
  cautions: readonly string[];
}

/** Bands that mean nothing in this direction. */
export interface Unread {
  /** Which band, and why: a whole sentence. */
  refused: string;
  /** The band, counted from 1 in the direction of reading; null where it is their number that is wrong. */
  band: number | null;
}

/** Whether something was read, rather than refused. */
export function isMarked(read: Marked | Unread): read is Marked {
  return !('refused' in read);
}
