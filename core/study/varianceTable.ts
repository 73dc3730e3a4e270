import fCdf from '@stdlib/stats-base-dists-f-cdf';
import type { CrossedGrid } from './crossedGrid.ts';
import { meanOf, sumOfSquares } from './deviations.ts';

/** Where spread comes from, by the rows of the table of variance. */
export type Source = 'piece' | 'operator' | 'interaction' | 'repeatability' | 'total';

/** One row of the table of variance. Sums and mean squares in ohms squared; null where there is no such figure. */
export interface VarianceRow {
  source: Source;
  df: number;
  sumOfSquares: number;
  meanSquare: number | null;
  f: number | null;
  p: number | null;
}

/** Degrees of freedom and mean square of one source, in ohms squared. */
export interface MeanSquare {
  df: number;
  value: number;
}

/** The two-way table of variance with both factors at random. */
export interface VarianceTable {
  rows: readonly VarianceRow[];
  piece: MeanSquare;
  operator: MeanSquare;
  /** Null in a table where it is counted to repeatability. */
  interaction: MeanSquare | null;
  repeatability: MeanSquare;
}

/** Below this share of repeatability's mean square an interaction is nothing but the rounding of doubles. */
const ROUNDING = 1e-12;

/**
 * Two-way analysis of variance of pieces and operators, both random, with interaction; every sum of squares from
 * deviations themselves, none by subtraction of others. Pieces and operators are tested against the interaction,
 * the interaction against repeatability.
 * Source: Houf and Berman, "Statistical Analysis of Power Module Thermal Test Equipment Performance", IEEE Transactions on
 * Components, Hybrids, and Manufacturing Technology 11 (1988); Montgomery, "Introduction to Statistical Quality Control",
 * gauge capability (both from memory).
 */
export function tableOf(grid: CrossedGrid): VarianceTable {
  const [p, o, r] = [grid.pieces.length, grid.operators.length, grid.repeats];
  const cells = grid.pieces.map((_, piece) => grid.operators.map((_, operator) => grid.cell(piece, operator)));
  const all = cells.flat(2);
  const grand = meanOf(all);
  // What each reading differs from the grand mean: everything after this works with small numbers.
  const left = cells.map((row) => row.map((cell) => cell.map((value) => value - grand)));
  const cellMeans = left.map((row) => row.map(meanOf));
  const pieceMeans = cellMeans.map(meanOf);
  const operatorMeans = grid.operators.map((_, operator) => meanOf(cellMeans.map((row) => row[operator] as number)));

  const pieceSquares = o * r * sumOfSquares(pieceMeans);
  const operatorSquares = p * r * sumOfSquares(operatorMeans);
  const strays = cellMeans.flatMap((row, piece) =>
    row.map((mean, operator) => mean - (pieceMeans[piece] as number) - (operatorMeans[operator] as number)),
  );
  const repeatSquares = sumOfSquares(
    left.flatMap((row, piece) =>
      row.flatMap((cell, operator) => cell.map((value) => value - (cellMeans[piece]?.[operator] as number))),
    ),
  );
  const repeatDf = p * o * (r - 1);
  const strayDf = (p - 1) * (o - 1);
  const raw = r * sumOfSquares(strays);
  const straySquares = raw / strayDf < (ROUNDING * repeatSquares) / repeatDf ? 0 : raw;

  const piece = { df: p - 1, value: pieceSquares / (p - 1) };
  const operator = { df: o - 1, value: operatorSquares / (o - 1) };
  const interaction = { df: strayDf, value: straySquares / strayDf };
  const repeatability = { df: repeatDf, value: repeatSquares / repeatDf };
  return {
    rows: [
      rowOf('piece', piece, interaction),
      rowOf('operator', operator, interaction),
      rowOf('interaction', interaction, repeatability),
      rowOf('repeatability', repeatability, null),
      totalRow(all.length, sumOfSquares(left.flat(2))),
    ],
    piece,
    operator,
    interaction,
    repeatability,
  };
}

/** The same table with the interaction counted to repeatability. */
export function pooled(table: VarianceTable): VarianceTable {
  const { piece, operator, interaction, repeatability, rows } = table;
  if (interaction === null) return table;
  const df = interaction.df + repeatability.df;
  const squares = interaction.df * interaction.value + repeatability.df * repeatability.value;
  const error = { df, value: squares / df };
  return {
    rows: [
      rowOf('piece', piece, error),
      rowOf('operator', operator, error),
      rowOf('repeatability', error, null),
      ...rows.filter(({ source }) => source === 'total'),
    ],
    piece,
    operator,
    interaction: null,
    repeatability: error,
  };
}

function rowOf(source: Source, { df, value }: MeanSquare, against: MeanSquare | null): VarianceRow {
  const f = against === null || against.value === 0 ? null : value / against.value;
  const p = f === null || against === null ? null : upperTailOfF(f, df, against.df);
  return { source, df, sumOfSquares: df * value, meanSquare: value, f, p };
}

function totalRow(readings: number, squares: number): VarianceRow {
  return { source: 'total', df: readings - 1, sumOfSquares: squares, meanSquare: null, f: null, p: null };
}

/** Probability of an F as large as this or larger. By the reciprocal's lower tail, which keeps its digits where it is small. */
export function upperTailOfF(f: number, df1: number, df2: number): number {
  return f === 0 ? 1 : fCdf(1 / f, df2, df1);
}
