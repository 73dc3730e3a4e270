import { significant } from '../quantity/significant.ts';
import { type Row, type RowKind, textRow } from './format.ts';

/** Significant digits of figures; of per cent. */
export const DIGITS = 6;
export const DIGITS_OF_PERCENT = 3;

export function numberRow(item: string, number: number, text = ''): Row {
  return { row: 'figure', item, text, number: significant(number, DIGITS) };
}

/** Below this a probability says nothing more, and is said to be below it. */
const SMALLEST_P = '0.000001';

/** @param p 0 to 1 */
export function probabilityRow(item: string, p: number, text = '', row: RowKind = 'figure'): Row {
  if (p >= Number(SMALLEST_P)) return { ...numberRow(item, p, text), row };
  return textRow(row, item, `${text === '' ? 'Below' : `${text}: below`} ${SMALLEST_P}.`);
}

export function ohmsRow(item: string, ohms: number, text = ''): Row {
  return { row: 'figure', item, text, ohms: significant(ohms, DIGITS) };
}

/** The words that stand where a figure would. */
export function wordsRow(item: string, words: string): Row {
  return textRow('figure', item, words);
}
