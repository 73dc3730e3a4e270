import { type Numbers, PLAN_LETTERS, SAMPLE_SIZES, type Severity, type SinglePlan, singlePlan } from './singlePlan.ts';

/** One of the two samples. */
export interface Stage extends Numbers {
  /** Pieces in this sample alone. */
  sampleSize: number;
}

/**
 * A double sampling plan (MIL-STD-105E, 4.10.1.2). After the first sample: at most `first.accept` nonconforming pieces, the lot
 * is accepted; at least `first.reject`, it is not; between, the second sample is taken. Its numbers count the pieces of both
 * samples. In reduced inspection a count between the second numbers accepts the lot, and normal inspection is back (4.10.1.4, from memory).
 */
export interface DoublePlan {
  letter: string;
  first: Stage;
  second: Stage;
}

/** The double plan, or the single one that the table refers to where it has none (its asterisks). */
export type DoubleOrSingle = ({ kind: 'double' } & DoublePlan) | ({ kind: 'single' } & SinglePlan);

/** Ac and Re of the first sample, Ac and Re of both. */
type Row = [number, number, number, number];

/** The numbers of the double plan by those of the single one in the same cell. */
const ROWS: Record<Severity, Record<string, Row>> = {
  normal: {
    '1/2': [0, 2, 1, 2],
    '2/3': [0, 3, 3, 4],
    '3/4': [1, 4, 4, 5],
    '5/6': [2, 5, 6, 7],
    '7/8': [3, 7, 8, 9],
    '10/11': [5, 9, 12, 13],
    '14/15': [7, 11, 18, 19],
    '21/22': [11, 16, 26, 27],
    '30/31': [17, 22, 37, 38],
    '44/45': [25, 31, 56, 57],
  },
  tightened: {
    '1/2': [0, 2, 1, 2],
    '2/3': [0, 3, 3, 4],
    '3/4': [1, 4, 4, 5],
    '5/6': [2, 5, 6, 7],
    '8/9': [3, 7, 11, 12],
    '12/13': [6, 10, 15, 16],
    '18/19': [9, 14, 23, 24],
    '27/28': [15, 20, 34, 35],
    '41/42': [23, 29, 52, 53],
  },
  reduced: {
    '0/2': [0, 2, 0, 2],
    '1/3': [0, 3, 0, 4],
    '1/4': [0, 4, 1, 5],
    '2/5': [0, 4, 3, 6],
    '3/6': [1, 5, 4, 7],
    '5/8': [2, 7, 6, 9],
    '7/10': [3, 8, 8, 12],
    '10/13': [5, 10, 12, 16],
    '14/17': [7, 12, 18, 22],
    '21/24': [11, 17, 26, 30],
  },
};

/** Each sample is one step of the series smaller than the single one; where that would leave the series there is no double plan. */
const STEPS_SMALLER: Record<Severity, number> = { normal: 1, tightened: 1, reduced: 3 };

/**
 * The double sampling plan of MIL-STD-105E (10 May 1989), Tables III-A, III-B and III-C. Cells repeat along the same diagonals
 * as those of single sampling, and arrows lead the same way. The single plan is to be used where it has Ac 0 and Re 1, and
 * where the letter is too small for two samples. Numbers and sizes from memory, and equal to the tables of the R package
 * AQLSchemes in 1242 of 1248 cells; in the other six that package contradicts itself (four times Re 26 beside Ac 26 at AQL 100;
 * letter A in normal inspection at AQL 10 and 15 has numbers there, and no size). The text of the standard itself was not
 * reached. ISO 2859-1 has other numbers here and is not offered.
 * @param letter code letter of the lot, A to R
 * @param aql one of the preferred AQLs, as text
 * @throws problem aql-unknown
 */
export function doublePlan(severity: Severity, letter: string, aql: string): DoubleOrSingle {
  const single = singlePlan('MIL-STD-105E', severity, letter, aql);
  const sampleSize = SAMPLE_SIZES[PLAN_LETTERS.indexOf(single.letter) - STEPS_SMALLER[severity]];
  const row = ROWS[severity][`${single.accept}/${single.reject}`];
  if (sampleSize === undefined || row === undefined) return { kind: 'single', ...single };
  const [firstAccept, firstReject, accept, reject] = row;
  return {
    kind: 'double',
    letter: single.letter,
    first: { sampleSize, accept: firstAccept, reject: firstReject },
    second: { sampleSize, accept, reject },
  };
}
