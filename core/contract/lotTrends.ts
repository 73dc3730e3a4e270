import type { Disposition } from '../inspection/event.ts';

/** Of more lots the trends are by month. */
export const MOST_TREND_LOTS = 2000;

/** A lot that is decided or on hold, or all those of a month; means, spreads and limits in the unit of the trends. */
export interface TrendPoint {
  /** Null of a month. */
  run: number | null;
  /** Number of the lot, or the month like `2026-03`. */
  name: string;
  /** When the lot was received, the first one of a month; milliseconds since 1970. */
  receivedMs: number;
  /** How many lots it stands for. */
  lots: number;
  measured: number;
  nonconforming: number;
  /** Readings behind mean and spread. */
  count: number;
  /** Readings of quite another value that are not among them. */
  leftOut: number;
  /** Of a month the mean of the means. */
  mean: number | null;
  /** Standard deviation with n - 1; of a month pooled. */
  spread: number | null;
  /** The window; null where it has no such limit, or lots of a month have not the same. */
  lower: number | null;
  upper: number | null;
  /** Where the certificate quotes it; of a month the lowest. */
  ppk: number | null;
  /** Null of a month. */
  disposition: Disposition | null;
}

/** How lots of a part, a supplier or both went, in the order they were received. Studies are no lots. */
export interface LotTrends {
  /** Ohms of one part; of several parts the difference from the nominal value in per cent of it. */
  unit: 'ohms' | 'percent';
  /** They are lots of practice on the simulated bench, which never stand beside real ones. */
  practice: boolean;
  by: 'lot' | 'month';
  /** How many lots there are, those that are neither decided nor on hold with them. */
  lots: number;
  dispositions: Record<Disposition | 'undecided', number>;
  points: TrendPoint[];
}
