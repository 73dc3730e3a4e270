import { significant } from '../quantity/significant.ts';
import { type Row, textRow } from './format.ts';

/** Significant digits of figures; of per cent. */
export const DIGITS = 6;
export const DIGITS_OF_PERCENT = 3;

export function numberRow(item: string, number: number, text = ''): Row {
  return { row: 'figure', item, text, number: significant(number, DIGITS) };
}

export function ohmsRow(item: string, ohms: number, text = ''): Row {
  return { row: 'figure', item, text, ohms: significant(ohms, DIGITS) };
}

/** The words that stand where a figure would. */
export function wordsRow(item: string, words: string): Row {
  return textRow('figure', item, words);
}
