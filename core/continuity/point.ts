import * as z from 'zod';
import { decimalText } from '../quantity/decimal.ts';

/** What a pair of terminals is to be: connected, or not connected to each other. */
export const EXPECTED = ['closed', 'open'] as const;
export type Expected = (typeof EXPECTED)[number];

/** So many rows a list may have, and so many points a run with its cross-connection pairs; far more is work for a harness tester. */
export const MOST_LISTED = 2000;
export const MOST_POINTS = 5000;
/** Longest name of a terminal, a wire or a state, in characters: it must be read at two metres. */
export const LONGEST_NAME = 40;

/** One pair of terminals that is measured once. */
export const point = z.object({
  /** Its number in the run, from 1, in the order of measuring. */
  point: z.number().int().positive(),
  /** Name of the wire or jumper in the list; may be empty. */
  wire: z.string(),
  from: z.string(),
  to: z.string(),
  expected: z.enum(EXPECTED),
  /** A limit of its own in ohms: what a closed one must stay below, what an open one must be above; null for that of the run. */
  limitOhms: decimalText.nullable(),
  /** How a switch or breaker must stand while it is measured, like `Q1 on`; empty where nothing is switched. */
  state: z.string(),
  note: z.string(),
  /** From the list, or a pair that follows from it: terminals of two nets, which must not be connected. */
  origin: z.enum(['listed', 'cross']),
});
export type Point = z.infer<typeof point>;

/** A pair as the list gives it, before it has its number. */
export type ListedPoint = Omit<Point, 'point' | 'origin'>;

/** Both terminals of a point, for a person. */
export function pairWords({ from, to }: Pick<Point, 'from' | 'to'>): string {
  return `${from} – ${to}`;
}
