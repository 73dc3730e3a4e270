import { problem } from '../problem/problem.ts';
import { CODE_LETTERS } from './codeLetter.ts';

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

/** Sample sizes of the code letters A to R (MIL-STD-105E, Table II-A). */
const SAMPLE_SIZES = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000];

/** Acceptance numbers along the diagonals 14 (0), 17, 18, … 26; between 14 and 17 lie arrows. */
const ACCEPT_FROM_17 = [1, 2, 3, 5, 7, 10, 14, 21, 30, 44];

/** A single sampling plan: not accepted at `reject` nonconforming pieces, accepted at `accept` when the sample is complete. */
export interface SinglePlan {
  /** The letter whose row the arrows lead to; its sample size and numbers are used. */
  letter: string;
  sampleSize: number;
  accept: number;
  reject: number;
}

type Cell = number | 'down' | 'up';

/**
 * One cell of the table. Letters A to R numbered i = 0 to 15 and AQLs j = 0 to 25, the cells repeat along the
 * diagonals d = i + j: an arrow down until 14, Ac 0 at 14, arrows at 15 (up) and 16 (down), then Ac 1, 2, 3, 5, 7,
 * 10, 14, 21, and for letters A to E 30 and 44. At both ends the arrow that would leave the table turns round.
 */
function cell(i: number, j: number): Cell {
  const d = i + j;
  if (d === 14) return 0;
  if (d < 14) return 'down';
  if (d === 15) return i === 0 ? 'down' : 'up';
  if (d === 16) return i === 15 ? 'up' : 'down';
  const last = i <= 4 ? 26 : 24;
  return d <= last ? (ACCEPT_FROM_17[d - 17] as number) : 'up';
}

/**
 * The plan for normal inspection (MIL-STD-105E, Table II-A), arrows followed: after an arrow both the sample size
 * and the numbers of the row it leads to are used.
 * @param aql one of {@link AQLS}, as text
 * @throws problem aql-unknown
 */
export function normalPlan(letter: string, aql: string): SinglePlan {
  const j = AQLS.indexOf(aql as (typeof AQLS)[number]);
  if (j < 0) throw problem('aql-unknown', aql);
  let i = CODE_LETTERS.indexOf(letter);
  let found = cell(i, j);
  while (typeof found === 'string') {
    i += found === 'down' ? 1 : -1;
    found = cell(i, j);
  }
  return { letter: CODE_LETTERS[i] as string, sampleSize: SAMPLE_SIZES[i] as number, accept: found, reject: found + 1 };
}
