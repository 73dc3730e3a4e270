import * as z from 'zod';
import { dispositions } from '../inspection/event.ts';
import type { FiguresOfLot } from '../inspection/figuresOfLot.ts';
import { lineOfText } from '../inspection/text.ts';
import type { RunSummary } from './contract.ts';

/** Rows of one answer. */
const MOST_ROWS = 500;

/** A run in the order of time, behind which an answer goes on. */
const place = z.strictObject({ receivedMs: z.number().int(), run: z.number().int().positive() });

/** Which runs are looked for; what is left out is not asked about. Texts must be the same, but for `text`. */
export const historyFilters = z.strictObject({
  part: lineOfText.optional(),
  supplier: lineOfText.optional(),
  lot: lineOfText.optional(),
  inspector: lineOfText.optional(),
  /** Stands somewhere in part, description, lot, reel, supplier or inspector, in capitals or not. */
  text: lineOfText.optional(),
  disposition: z.enum([...dispositions.options, 'undecided']).optional(),
  /** First and last day of receipt, as the station's own clock has days. */
  from: z.iso.date().optional(),
  to: z.iso.date().optional(),
  /** Runs on the simulated bench alone, or those on real meters. */
  practice: z.boolean().optional(),
  /** Studies of the measurement alone, or lots. */
  study: z.boolean().optional(),
  order: z.enum(['latest-first', 'earliest-first']).default('latest-first'),
});

/** A page of the runs that are looked for. */
export const historyQuestion = historyFilters.extend({
  /** `next` of the answer before. */
  after: place.optional(),
  most: z.number().int().min(1).max(MOST_ROWS).default(50),
});

/** Which runs somebody looks for, checked. */
export type HistoryFilters = z.output<typeof historyFilters>;

/** A page of what somebody looks for in the history, checked. */
export type HistoryQuestion = z.output<typeof historyQuestion>;

/** A run in the history. */
export interface HistoryRow extends RunSummary {
  description: string;
  reel: string;
  decidedAt: string | null;
  decidedBy: string | null;
  reason: string | null;
  /** The second person, where the lot was accepted against its plan. */
  approvedBy: string | null;
  /** The run in which the lot was decided before, where it was offered again. */
  offeredAgainAfter: number | null;
  /** Normal, tightened or reduced inspection; null of plans that know none. */
  severity: string | null;
  /** Of the window; null where there is none. */
  nominalOhms: number | null;
  lowerOhms: number | null;
  upperOhms: number | null;
  /** How many certificates were written. */
  certificates: number;
  /** Of a lot that is decided or on hold; null otherwise. */
  figures: FiguresOfLot | null;
  /** Capability index Ppk; null where its certificate quotes none. */
  ppk: number | null;
}

/** Rows of the history in order. */
export interface HistoryPage {
  rows: HistoryRow[];
  /** Where the next rows begin; null where there are none. */
  next: z.output<typeof place> | null;
}

export interface History extends HistoryPage {
  /** How many runs there are in all that were looked for. */
  total: number;
}

/** Names in the history, in order; not all where there are very many. */
export interface HistoryNames {
  parts: string[];
  suppliers: string[];
  inspectors: string[];
}
