import type { DecimalText } from '../quantity/decimal.ts';

/** One reading of a crossed study. Pieces and operators go by their names; a measured study's pieces by their number. */
export interface CrossedReading {
  piece: string;
  operator: string;
  /** From 1. */
  repeat: number;
  ohms: DecimalText;
}

/** One reading of a single-operator study. Numbers are from 1. */
export interface SingleReading {
  piece: string;
  run: number;
  /** Session within its run. */
  session: number;
  repeat: number;
  ohms: DecimalText;
}

/** The known value of a piece, with the expanded uncertainty (k = 2) of its certificate where there is one. */
export interface Reference {
  ohms: DecimalText;
  uncertaintyOhms: DecimalText | null;
}

/** The readings of a study of either design. */
export type StudyReadings =
  | { design: 'crossed'; readings: readonly CrossedReading[] }
  | { design: 'single'; readings: readonly SingleReading[]; reference: Reference | null };

/** Names in an order people expect: whole numbers by size, before other names by their characters. */
export function byName(a: string, b: string): number {
  const [whole, other] = [/^\d{1,15}$/.test(a), /^\d{1,15}$/.test(b)];
  if (whole && other && Number(a) !== Number(b)) return Number(a) - Number(b);
  if (whole !== other) return whole ? -1 : 1;
  return a < b ? -1 : a > b ? 1 : 0;
}
