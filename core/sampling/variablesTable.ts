import { AQLS } from './singlePlan.ts';

/** Inspection levels of MIL-STD-414; IV is usual. */
export const VARIABLES_LEVELS = ['I', 'II', 'III', 'IV', 'V'] as const;
export type VariablesLevel = (typeof VARIABLES_LEVELS)[number];

/** AQLs of MIL-STD-414, per cent nonconforming, in order: 0.040 to 15 of those of MIL-STD-105E. */
export const VARIABLES_AQLS = AQLS.slice(AQLS.indexOf('0.040'), AQLS.indexOf('15') + 1);

/**
 * MIL-STD-414 (11 June 1957), Table A-2: the largest lot of each row, and a letter for each level in their order.
 * Two public copies of the table agree on all of it, the data of the R package Planesmuestra 0.1 being one.
 */
export const TABLE_A_2: readonly (readonly [upTo: number, letters: string])[] = [
  [8, 'BBBBC'],
  [15, 'BBBBD'],
  [25, 'BBBCE'],
  [40, 'BBBDF'],
  [65, 'BBCEG'],
  [110, 'BBDFH'],
  [180, 'BCEGI'],
  [300, 'BDFHJ'],
  [500, 'CEGIK'],
  [800, 'DFHJL'],
  [1300, 'EGIKL'],
  [3200, 'FHJLM'],
  [8000, 'GILMN'],
  [22000, 'HJMNO'],
  [110000, 'IKNOP'],
  [550000, 'IKOPQ'],
  [Number.POSITIVE_INFINITY, 'IKPQQ'],
];

/**
 * MIL-STD-414 (11 June 1957), Table B-1 (standard deviation method, Form 1): sample size, and k for each AQL of normal inspection in
 * their order. Tightened inspection is the same table with each AQL one column further to the left. `down`: no plan of its own, the
 * first one below is used, its sample size and k; `?`: not confirmed by a second source, so it is not offered.
 *
 * A number stands here where two sources agree on it: k in the data of the R package Planesmuestra 0.1, and the image of M within
 * 0.011, which is what the rounding of both leaves. M is that of another public copy of Table B-3; in column
 * 0.065, which is a copy of its neighbour there, and at D 0.65 and D 1.0 that of ANSI/ASQ Z1.9 at the same sample size. An arrow stands
 * where the first source repeats the k of the letter below and the other has an empty cell.
 */
export const TABLE_B_1: readonly (readonly [letter: string, sampleSize: number, cells: string])[] = [
  ['B', 3, 'down down down down down down down down down 1.12 0.96 0.77 0.57 0.34'],
  ['C', 4, 'down down down down down down down 1.45 1.34 1.17 1.01 0.81 0.62 0.39'],
  ['D', 5, 'down down down down down down 1.65 1.53 1.40 1.24 1.07 0.87 0.68 0.46'],
  ['E', 7, 'down down down down 2.00 1.88 1.75 1.62 1.50 1.33 1.15 0.95 0.76 0.54'],
  ['F', 10, 'down down down 2.24 2.11 1.98 1.84 1.72 1.58 1.41 1.23 1.03 0.83 0.61'],
  ['G', 15, '2.64 2.53 2.42 2.32 2.20 2.06 1.91 1.79 1.65 1.47 1.30 1.09 0.89 0.66'],
  ['H', 20, '2.69 2.58 2.47 2.36 2.24 2.11 1.96 1.82 1.69 1.51 1.33 1.12 0.92 0.69'],
  ['I', 25, '2.72 2.61 2.50 2.40 2.26 2.14 1.98 1.85 1.72 1.53 1.35 1.14 0.94 0.71'],
  ['J', 30, '2.73 ? 2.51 2.41 2.28 2.15 2.00 1.86 1.73 1.55 1.36 1.15 0.95 0.72'],
  ['K', 35, '2.77 ? 2.54 2.45 2.31 2.18 2.03 1.89 1.76 1.57 1.39 1.18 0.97 0.74'],
  ['L', 40, '2.77 ? 2.55 2.44 2.31 2.18 2.03 1.89 1.76 1.58 1.39 1.18 0.97 0.75'],
  ['M', 50, '2.83 2.71 2.60 2.50 2.35 2.22 2.08 1.93 1.80 1.61 1.42 1.21 1.00 0.77'],
  ['N', 75, '? 2.77 2.66 2.55 2.41 2.27 2.12 1.98 1.84 1.65 1.46 1.24 1.03 0.80'],
  ['O', 100, '2.92 2.80 2.69 2.58 2.43 2.29 2.14 2.00 1.86 1.67 1.48 1.26 1.05 0.82'],
  ['P', 150, '2.96 2.84 2.73 2.61 2.47 2.33 2.18 2.03 1.89 1.70 1.51 1.29 1.07 0.84'],
  ['Q', 200, '2.97 2.85 2.73 2.62 2.47 2.33 2.18 2.04 1.89 1.70 1.51 1.29 1.07 0.84'],
];
