import { formatOhms } from '../quantity/formatOhms.ts';
import type { Marked } from './marking.ts';
import { SERIES } from './preferred.ts';
import { timesPower } from './timesPower.ts';

/** Two figures for the place in E96, from 01, and a letter for the power of ten. */
const CODE = /^(\d\d)([A-Z])$/i;

/**
 * Powers of ten of the letters. X, A, B, C, D, E as in published data sheets of chip resistors; the others (Z, R for Y, S for X,
 * H for B, F) from memory of IEC 60062:2016.
 */
export const EIA_96_POWERS: Readonly<Record<string, number>> = {
  Z: -3,
  Y: -2,
  R: -2,
  X: -1,
  S: -1,
  A: 0,
  B: 1,
  H: 1,
  C: 2,
  D: 3,
  E: 4,
  F: 5,
};

/**
 * Reads a chip code of EIA-96, like `68C` (the 68th number of E96, 499, times 100): parts of 1 %.
 * @returns no meanings where it has not this form or not one of its letters; the reason in words where its number is none
 */
export function readEia96(text: string): readonly Marked[] | string {
  const code = CODE.exec(text);
  const [, number = '', typed = ''] = code ?? [];
  const letter = typed.toUpperCase();
  const power = EIA_96_POWERS[letter];
  if (power === undefined) return [];
  const significand = SERIES.E96.significands[Number(number) - 1];
  if (significand === undefined) return `the numbers of EIA-96 go from 01 to 96, and ${number} is none`;
  const ohms = timesPower(String(significand), power);
  const meaning: Marked = {
    ohms,
    tolerancePercent: '1',
    ppmPerKelvin: null,
    scheme: 'eia-96',
    words: `EIA-96: ${number} is ${significand}, ${letter} ×${timesPower('1', power)}: ${formatOhms(ohms)}; these codes are for ±1 %`,
    cautions: [],
  };
  return [meaning];
}
