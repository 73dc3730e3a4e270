import type { DecimalText } from '../quantity/decimal.ts';

/** Letters of symmetric tolerances, ± per cent (IEC 60062:2016; D, F, G, J read in a published list, the others from memory). */
export const TOLERANCE_LETTERS: Readonly<Record<string, DecimalText>> = {
  E: '0.005',
  L: '0.01',
  P: '0.02',
  W: '0.05',
  B: '0.1',
  C: '0.25',
  D: '0.5',
  F: '1',
  G: '2',
  H: '3',
  J: '5',
  K: '10',
  M: '20',
  N: '30',
};

/** Letters of one-sided tolerances, for capacitors in the main (IEC 60062, from memory): known, so that they can be refused by name. */
export const LOPSIDED_LETTERS: Readonly<Record<string, string>> = {
  Q: '-10/+30 %',
  T: '-10/+50 %',
  S: '-20/+50 %',
  Z: '-20/+80 %',
};

/** Letters of temperature coefficients, ± ppm for each kelvin (IEC 60062:2016, from memory). */
export const COEFFICIENT_LETTERS: Readonly<Record<string, DecimalText>> = {
  U: '250',
  S: '100',
  R: '50',
  Q: '25',
  P: '15',
  M: '5',
  K: '1',
};

/** Letters that lists give more than one coefficient for: none is taken. */
export const DOUBTFUL_COEFFICIENTS: Readonly<Record<string, readonly DecimalText[]>> = { Z: ['20', '10'] };

/** Powers of ten of the letters in place of the decimal point (IEC 60062); L is the milliohm, and so is a small m where people type it. */
export const POINT_LETTERS: Readonly<Record<string, number>> = { L: -3, m: -3, R: 0, K: 3, M: 6, G: 9, T: 12 };
