import { problem } from '../problem/problem.ts';
import { CODE_LETTERS } from './codeLetter.ts';

/** The standards whose tables for inspection by attributes are followed. A plan names which. */
export const STANDARDS = ['MIL-STD-105E', 'ISO 2859-1'] as const;

export type Standard = (typeof STANDARDS)[number];

/** How severe an inspection is (MIL-STD-105E, 4.6.1; ISO 2859-1, 9). */
export const SEVERITIES = ['normal', 'tightened', 'reduced'] as const;

export type Severity = (typeof SEVERITIES)[number];

/** The preferred AQLs of MIL-STD-105E Table II, in order. Up to 10 they may be per cent nonconforming. */
export const AQLS = [
  '0.010',
  '0.015',
  '0.025',
  '0.040',
  '0.065',
  '0.10',
  '0.15',
  '0.25',
  '0.40',
  '0.65',
  '1.0',
  '1.5',
  '2.5',
  '4.0',
  '6.5',
  '10',
  '15',
  '25',
  '40',
  '65',
  '100',
  '150',
  '250',
  '400',
  '650',
  '1000',
] as const;

/** The code letters in the order of their rows. S is reached from R by an arrow, in tightened inspection only (Table II-B). */
export const PLAN_LETTERS = [...CODE_LETTERS, 'S'];

/** Sample sizes of the letters A to S in normal and tightened inspection (MIL-STD-105E, Tables II-A and II-B). */
export const SAMPLE_SIZES = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150];

/**
 * At most `accept` nonconforming pieces in the whole sample: the lot is accepted. At least `reject`: it is not. In reduced
 * inspection of MIL-STD-105E a number may lie between: such a lot is accepted, and normal inspection is back with the next
 * one (4.7.4 and 4.10.1.4, from memory).
 */
export interface Numbers {
  accept: number;
  reject: number;
}

/** A single sampling plan. */
export interface SinglePlan extends Numbers {
  /** The letter whose row the arrows lead to; its sample size and numbers are used. */
  letter: string;
  sampleSize: number;
}

type Cell = Numbers | 'down' | 'up';

const oneApart = (accept: number): Numbers => ({ accept, reject: accept + 1 });

/** The diagonal on which acceptance number 0 lies, and what follows it on the next ones; the last two for letters A to E only. */
const DIAGONALS: Record<Severity, { zero: number; after: Cell[] }> = {
  normal: { zero: 14, after: ['up', 'down', ...[1, 2, 3, 5, 7, 10, 14, 21, 30, 44].map(oneApart)] },
  tightened: { zero: 15, after: ['down', 'down', ...[1, 2, 3, 5, 8, 12, 18, 27, 41].map(oneApart)] },
  reduced: {
    zero: 14,
    after: [
      'up',
      'down',
      { accept: 0, reject: 2 },
      { accept: 1, reject: 3 },
      { accept: 1, reject: 4 },
      { accept: 2, reject: 5 },
      { accept: 3, reject: 6 },
      { accept: 5, reject: 8 },
      { accept: 7, reject: 10 },
      { accept: 10, reject: 13 },
      { accept: 14, reject: 17 },
      { accept: 21, reject: 24 },
    ],
  },
};

const LAST_DIAGONAL = 24;
const LAST_DIAGONAL_A_TO_E = 26;

/** Where the rows A and B of Table II-C leave the diagonals: from AQL 25 on, since their samples cannot become smaller. */
const SHORT_ROWS_FROM = AQLS.indexOf('25');
const SHORT_ROWS: Numbers[][] = [
  [1, 2, 3, 5, 7, 10, 14, 21, 30].map(oneApart),
  [
    { accept: 1, reject: 3 },
    { accept: 2, reject: 4 },
    { accept: 3, reject: 5 },
    ...[5, 7, 10, 14, 21, 30].map(oneApart),
  ],
];

/**
 * One cell of a table. Letters A to S numbered i = 0 to 16 and AQLs j = 0 to 25, the cells repeat along the diagonals
 * d = i + j: an arrow down until acceptance number 0, two arrows, then rising numbers. At both ends the arrow that would leave
 * the table turns round.
 */
function cell(severity: Severity, i: number, j: number): Cell {
  const d = i + j;
  if (i === 0 && d === 15) return 'down';
  if (i === 15 && d === 16) return 'up';
  const ofShortRow = severity === 'reduced' ? SHORT_ROWS[i]?.[j - SHORT_ROWS_FROM] : undefined;
  if (ofShortRow) return ofShortRow;
  const { zero, after } = DIAGONALS[severity];
  if (d < zero) return 'down';
  if (d === zero) return oneApart(0);
  if (d > (i <= 4 ? LAST_DIAGONAL_A_TO_E : LAST_DIAGONAL)) return 'up';
  return after[d - zero - 1] as Cell;
}

/** In reduced inspection the sample is two steps of the series smaller, and at least 2 (Table II-C). */
function sampleSizeOf(severity: Severity, i: number): number {
  return SAMPLE_SIZES[severity === 'reduced' ? Math.max(0, i - 2) : i] as number;
}

/**
 * A single sampling plan, arrows followed: after an arrow both the sample size and the numbers of the row it leads to are
 * used.
 *
 * - MIL-STD-105E (10 May 1989), Tables II-A, II-B and II-C. Equal in every cell to the tables of the R package AQLSchemes, and
 *   to those of Planesmuestra where that has a plan.
 * - ISO 2859-1:1999, Tables 2-A and 2-B, are the same (from memory). What NF ISO 2859-1:2000 lists as changed names of the single
 *   plans the reduced ones, which lost the gap between their numbers; the list could be read in part, the tables not at all.
 *   So reduced inspection by ISO 2859-1 is refused instead of guessed.
 * @param letter code letter of the lot, A to R
 * @param aql one of {@link AQLS}, as text
 * @throws problems aql-unknown, reduced-not-known
 */
export function singlePlan(standard: Standard, severity: Severity, letter: string, aql: string): SinglePlan {
  if (standard === 'ISO 2859-1' && severity === 'reduced') throw problem('reduced-not-known');
  const j = AQLS.indexOf(aql as (typeof AQLS)[number]);
  if (j < 0) throw problem('aql-unknown', aql);
  let i = PLAN_LETTERS.indexOf(letter);
  let found = cell(severity, i, j);
  while (typeof found === 'string') {
    i += found === 'down' ? 1 : -1;
    found = cell(severity, i, j);
  }
  return { letter: PLAN_LETTERS[i] as string, sampleSize: sampleSizeOf(severity, i), ...found };
}
