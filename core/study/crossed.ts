import { problem } from '../problem/problem.ts';
import type { Window } from '../window/window.ts';
import { type CrossedGrid, gridOf } from './crossedGrid.ts';
import { finestDigitOhms, meanOf } from './deviations.ts';
import { gaugeIntervalOf, type SdInterval } from './gaugeInterval.ts';
import type { CrossedReading } from './reading.ts';
import { shareOfTolerance, twoSidedWidth } from './shareOfTolerance.ts';
import { pooled, tableOf, type VarianceRow, type VarianceTable } from './varianceTable.ts';
import {
  COARSE_NOTE,
  type Conclusion,
  categoriesWords,
  interactionWords,
  SIGNIFICANT_P,
  shownP,
  sourceWords,
  toleranceWords,
  variationWords,
} from './words.ts';

export type { SdInterval } from './gaugeInterval.ts';
export type { Source, VarianceRow } from './varianceTable.ts';

/** A component of variance and its shares. */
export interface Component {
  source: 'gauge' | 'repeatability' | 'reproducibility' | 'operator' | 'interaction' | 'piece' | 'total';
  /** Ohms squared. */
  variance: number;
  /** Standard deviation in ohms. */
  sdOhms: number;
  percentOfVariance: number;
  /** Share of the standard deviation of all: these do not add up to 100 %. */
  percentOfStudyVariation: number;
  /** Six standard deviations as a share of the window's width; null without a window of two limits. */
  percentOfTolerance: number | null;
}

/** Readings that belong together, for pictures: in ohms. */
export interface Group {
  readings: readonly number[];
  mean: number;
  lowest: number;
  highest: number;
}

/** What a crossed study says. */
export interface CrossedStudy {
  design: 'crossed';
  pieces: readonly string[];
  operators: readonly string[];
  repeats: number;
  /** The table with the interaction as a row of its own. */
  table: readonly VarianceRow[];
  /** The table with the interaction counted to repeatability; null where the interaction is kept. */
  pooledTable: readonly VarianceRow[] | null;
  components: readonly Component[];
  /** 95 % confidence interval of the gauge's standard deviation, in ohms. */
  gaugeInterval: SdInterval;
  /** 1.41 × sd of pieces / sd of gauge, not truncated. */
  categoriesExact: number;
  /** The same truncated to a whole number, at least 1. */
  distinctCategories: number;
  byPiece: readonly (Group & { piece: string })[];
  byOperator: readonly (Group & { operator: string })[];
  /** Interaction: one for each piece and operator, piece by piece. */
  cells: readonly (Group & { piece: string; operator: string })[];
  conclusions: readonly Conclusion[];
  /** What was decided on the way and what limits the figures, in plain words. */
  notes: readonly string[];
}

/** Above this p of the interaction's F test it is counted to repeatability. Common practice; the figure is our choice. */
export const POOL_ABOVE_P = 0.25;

/** The rule as files and screens state it. */
export const POOLING_RULE = `The interaction of piece and operator is counted to repeatability where its F test gives p > ${POOL_ABOVE_P}, else it is kept and counts to reproducibility`;

/** Square root of 2 as rounded in the usual rule for the number of distinct categories (common practice). */
const CATEGORIES_FACTOR = 1.41;

/** What most people take at least; with less the figures still hold, but loosely (common practice). */
const USUAL = { pieces: 10, operators: 3 };

/**
 * Crossed study of repeatability and reproducibility by analysis of variance: every operator measured every piece the same
 * number of times. Pieces and operators count as drawn at random. Components: repeatability MS_E, interaction
 * (MS_PO - MS_E) / r, operator (MS_O - MS_PO) / (p r), piece (MS_P - MS_PO) / (o r); pooled with the pooled MS_E in the
 * place of both. Negative ones are set to zero and a note says so. See {@link tableOf} for sources.
 * @param window limits in ohms the share of tolerance is of; null where there is none
 * @throws problems of gridOf, and study-without-spread where all repeats agree
 */
export function crossedStudy(
  readings: readonly CrossedReading[],
  window: Pick<Window, 'lower' | 'upper'> | null,
): CrossedStudy {
  const grid = gridOf(readings);
  const groups = cellsOfGrid(grid);
  if (groups.every(({ lowest, highest }) => lowest === highest)) throw problem('study-without-spread', readings.length);

  const notes: string[] = [];
  const full = tableOf(grid);
  const pooledTable = mustPool(full, notes) ? pooled(full) : null;
  const table = pooledTable ?? full;
  const components = componentsOf(grid, table, twoSidedWidth(window, notes), notes);
  const of = (source: Component['source']) => components.find((found) => found.source === source) as Component;
  const [gauge, piece] = [of('gauge'), of('piece')];
  const interactionP = full.rows.find(({ source }) => source === 'interaction')?.p ?? null;
  const categoriesExact = (CATEGORIES_FACTOR * piece.sdOhms) / gauge.sdOhms;
  const distinctCategories = Math.max(1, Math.trunc(categoriesExact));
  const finest = finestDigitOhms(readings.map(({ ohms }) => ohms));
  notes.push(...limitsOf(grid, of('repeatability').sdOhms, finest));

  return {
    design: 'crossed',
    pieces: grid.pieces,
    operators: grid.operators,
    repeats: grid.repeats,
    table: full.rows,
    pooledTable: pooledTable?.rows ?? null,
    components,
    gaugeInterval: gaugeIntervalOf(grid, table),
    categoriesExact,
    distinctCategories,
    byPiece: grid.pieces.map((name) => ({
      piece: name,
      ...together(
        grid,
        groups.filter(({ piece }) => piece === name),
      ),
    })),
    byOperator: grid.operators.map((name) => ({
      operator: name,
      ...together(
        grid,
        groups.filter(({ operator }) => operator === name),
      ),
    })),
    cells: groups.map((group) => ({ piece: group.piece, operator: group.operator, ...together(grid, [group]) })),
    conclusions: [
      ...(gauge.percentOfTolerance === null ? [] : [toleranceWords('The gauge', gauge.percentOfTolerance)]),
      variationWords(gauge.percentOfStudyVariation),
      categoriesWords(distinctCategories),
      sourceWords(of('repeatability').variance, of('reproducibility').variance),
      ...(interactionP !== null && interactionP < SIGNIFICANT_P ? [interactionWords(interactionP)] : []),
    ],
    notes,
  };
}

/** The readings of one cell as deviations. */
interface Cell {
  piece: string;
  operator: string;
  values: readonly number[];
  lowest: number;
  highest: number;
}

function cellsOfGrid(grid: CrossedGrid): Cell[] {
  return grid.pieces.flatMap((piece, row) =>
    grid.operators.map((operator, column) => {
      const values = grid.cell(row, column);
      return { piece, operator, values, lowest: Math.min(...values), highest: Math.max(...values) };
    }),
  );
}

function together({ base }: CrossedGrid, cells: readonly Cell[]): Group {
  const values = cells.flatMap((cell) => cell.values);
  return {
    readings: values.map((value) => base + value),
    mean: base + meanOf(values),
    lowest: base + Math.min(...values),
    highest: base + Math.max(...values),
  };
}

function mustPool({ rows }: VarianceTable, notes: string[]): boolean {
  const p = rows.find(({ source }) => source === 'interaction')?.p ?? 0;
  const pool = p > POOL_ABOVE_P;
  notes.push(
    pool
      ? `The interaction of piece and operator (${shownP(p)}, above ${POOL_ABOVE_P}) is counted to repeatability`
      : `The interaction of piece and operator (${shownP(p)}, not above ${POOL_ABOVE_P}) is kept as a component of its own`,
  );
  return pool;
}

function componentsOf(
  { pieces, operators, repeats }: CrossedGrid,
  table: VarianceTable,
  width: number | null,
  notes: string[],
): Component[] {
  const error = table.interaction ?? table.repeatability;
  const atLeastZero = (name: string, estimate: number): number => {
    if (estimate < 0) notes.push(`The estimate of the ${name} component was negative and is set to zero`);
    return Math.max(0, estimate);
  };
  const repeatability = table.repeatability.value;
  const interaction =
    table.interaction === null ? 0 : atLeastZero('interaction', (error.value - repeatability) / repeats);
  const operator = atLeastZero('operator', (table.operator.value - error.value) / (pieces.length * repeats));
  const piece = atLeastZero('piece', (table.piece.value - error.value) / (operators.length * repeats));
  const reproducibility = operator + interaction;
  const gauge = repeatability + reproducibility;
  const total = gauge + piece;
  const of = (source: Component['source'], variance: number): Component => ({
    source,
    variance,
    sdOhms: Math.sqrt(variance),
    percentOfVariance: (100 * variance) / total,
    percentOfStudyVariation: 100 * Math.sqrt(variance / total),
    percentOfTolerance: shareOfTolerance(Math.sqrt(variance), width),
  });
  return [
    of('gauge', gauge),
    of('repeatability', repeatability),
    of('reproducibility', reproducibility),
    of('operator', operator),
    ...(table.interaction === null ? [] : [of('interaction', interaction)]),
    of('piece', piece),
    of('total', total),
  ];
}

function limitsOf({ pieces, operators }: CrossedGrid, repeatabilityOhms: number, finestOhms: number): string[] {
  const notes: string[] = [];
  if (pieces.length < USUAL.pieces) {
    notes.push(
      `${pieces.length} pieces are few (usual are ${USUAL.pieces}): what is said of pieces and categories is loose`,
    );
  }
  if (operators.length < USUAL.operators) {
    notes.push(
      `${operators.length} operators say little of all operators (usual are ${USUAL.operators}): the upper confidence limit of the gauge is wide`,
    );
  }
  if (finestOhms > repeatabilityOhms) notes.push(COARSE_NOTE);
  return notes;
}
