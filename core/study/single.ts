import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import type { Window } from '../window/window.ts';
import { type Bias, biasOf } from './bias.ts';
import { deviationsOf, finestDigitOhms, meanOf, squaresAboutMean } from './deviations.ts';
import { type SdInterval, sdIntervalOf } from './gaugeInterval.ts';
import { type Level, type Levels, levelsOf } from './levels.ts';
import type { Reference, SingleReading } from './reading.ts';
import { shareOfTolerance, twoSidedWidth } from './shareOfTolerance.ts';
import { type SingleGrid, singleGridOf } from './singleGrid.ts';
import { upperTailOfF } from './varianceTable.ts';
import { biasWords, COARSE_NOTE, type Conclusion, sessionsWords, toleranceWords } from './words.ts';

export type { Bias } from './bias.ts';
export type { Level } from './levels.ts';

/** One session of one piece, for pictures: in ohms. */
export interface Session {
  piece: string;
  run: number;
  session: number;
  readings: readonly number[];
  mean: number;
  lowest: number;
  highest: number;
  sd: number;
}

/** What a single-operator study says. */
export interface SingleStudy {
  design: 'single';
  pieces: readonly string[];
  runs: number;
  /** Sessions in each run. */
  sessions: number;
  repeats: number;
  /** Level 1: repeatability within a session. */
  repeatability: Level;
  /** 95 % confidence interval of the repeatability. */
  repeatabilityInterval: SdInterval;
  /** Level 2: standard deviation of session means within a run (day to day); null with one session. */
  dayToDay: Level | null;
  /** Level 3: standard deviation of run means (run to run); null with one run. */
  runToRun: Level | null;
  /** Standard deviation of one reading on any day, from all levels there are. */
  oneReading: Level;
  /** Whether sessions differ by more than repeatability explains: F test; null with one session. */
  sessionsDiffer: { f: number; p: number } | null;
  /** Six standard deviations of one reading as a share of the window's width; null without a window of two limits. */
  percentOfTolerance: number | null;
  /** Null where there is no reference value. */
  bias: (Bias & { meanOhms: number; referenceOhms: number; percentOfTolerance: number | null }) | null;
  bySession: readonly Session[];
  conclusions: readonly Conclusion[];
  /** What limits the figures, in plain words. */
  notes: readonly string[];
}

/**
 * Single-operator study: repeatability pooled over pieces and sessions, day-to-day and run-to-run standard deviations
 * (see {@link levelsOf}), and the bias against a known value (see {@link biasOf}).
 * @param options.window limits in ohms the share of tolerance is of; null where there is none
 * @param options.reference known value of the one piece; null where there is none
 * @throws problems of singleGridOf, study-reference-unfit for a reference and several pieces, study-without-spread where
 *   all repeats agree
 */
export function singleStudy(
  readings: readonly SingleReading[],
  options: { window: Pick<Window, 'lower' | 'upper'> | null; reference: Reference | null },
): SingleStudy {
  const { window, reference } = options;
  const grid = singleGridOf(readings);
  if (reference !== null && grid.pieces.length > 1) {
    throw problem('study-reference-unfit', `there are ${grid.pieces.length} pieces and one value`);
  }
  const { base, deviations } = deviationsOf(readings.map(({ ohms }) => ohms));
  const small = sessionsOf(grid, deviations);
  if (small.every(({ lowest, highest }) => lowest === highest)) throw problem('study-without-spread', readings.length);

  const notes: string[] = [];
  const levels = levelsOf(small, grid.repeats);
  const { repeatability, dayToDay, oneReading } = levels;
  const width = twoSidedWidth(window, notes);
  const percentOfTolerance = shareOfTolerance(oneReading.sdOhms, width);
  const sessionsDiffer = dayToDay === null ? null : differing(repeatability, dayToDay, grid.repeats);
  const finest = finestDigitOhms(readings.map(({ ohms }) => ohms));
  notes.push(...limitsOf(grid, levels, reference, finest));

  let bias: SingleStudy['bias'] = null;
  if (reference !== null) {
    // The exact difference of first reading and reference, so that a bias far smaller than both keeps its digits.
    const shift = Number(new Big(readings[0]?.ohms ?? '0').minus(reference.ohms));
    const differences = independentMeans(grid, small).map((mean) => mean + shift);
    const found = biasOf(differences, Number(reference.uncertaintyOhms ?? 0));
    const referenceOhms = Number(reference.ohms);
    bias = {
      ...found,
      meanOhms: referenceOhms + found.biasOhms,
      referenceOhms,
      percentOfTolerance: width === null ? null : (100 * Math.abs(found.biasOhms)) / width,
    };
  }

  return {
    design: 'single',
    pieces: grid.pieces,
    runs: grid.runs,
    sessions: grid.sessions,
    repeats: grid.repeats,
    repeatability,
    repeatabilityInterval: sdIntervalOf(repeatability),
    dayToDay,
    runToRun: levels.runToRun,
    oneReading,
    sessionsDiffer,
    percentOfTolerance,
    bias,
    bySession: small.map((session) => ({
      ...session,
      readings: session.readings.map((value) => base + value),
      mean: base + session.mean,
      lowest: base + session.lowest,
      highest: base + session.highest,
    })),
    conclusions: [
      ...(percentOfTolerance === null ? [] : [toleranceWords('The spread of one reading', percentOfTolerance)]),
      ...(sessionsDiffer === null ? [] : [sessionsWords(sessionsDiffer.p)]),
      ...(bias === null ? [] : [biasWords(bias)]),
    ],
    notes,
  };
}

/** Every session of every piece, in deviations from the first reading. */
function sessionsOf(grid: SingleGrid, deviations: readonly number[]): Session[] {
  const found: Session[] = [];
  for (const piece of grid.pieces) {
    for (let run = 1; run <= grid.runs; run += 1) {
      for (let session = 1; session <= grid.sessions; session += 1) {
        const values = grid.repeatsOf(piece, run, session).map((index) => deviations[index] as number);
        found.push({
          piece,
          run,
          session,
          readings: values,
          mean: meanOf(values),
          lowest: Math.min(...values),
          highest: Math.max(...values),
          sd: Math.sqrt(squaresAboutMean(values) / (values.length - 1)),
        });
      }
    }
  }
  return found;
}

/** What may be taken as independent of each other: means of runs, else of sessions, else the readings. */
function independentMeans(grid: SingleGrid, sessions: readonly Session[]): number[] {
  if (grid.runs > 1) {
    return [...Map.groupBy(sessions, ({ run }) => run).values()].map((of) => meanOf(of.map(({ mean }) => mean)));
  }
  if (grid.sessions > 1) return sessions.map(({ mean }) => mean);
  return sessions.flatMap(({ readings }) => readings);
}

/** F test of level 2 against level 1: with nothing but repeatability the variance of session means is s1² / J. */
function differing(repeatability: Level, dayToDay: Level, repeats: number): { f: number; p: number } {
  const f = (repeats * dayToDay.sdOhms ** 2) / repeatability.sdOhms ** 2;
  return { f, p: upperTailOfF(f, dayToDay.df, repeatability.df) };
}

function limitsOf(
  grid: SingleGrid,
  { repeatability, dayToDay, runToRun }: Levels,
  reference: Reference | null,
  finestOhms: number,
): string[] {
  const notes = ['One operator only: what others would read is not in these figures'];
  if (dayToDay === null && runToRun === null) {
    notes.push('One session only: what changes from day to day is not in these figures');
  }
  if (reference === null) notes.push('No reference value was given: nothing is said of bias');
  else if (reference.uncertaintyOhms === null) {
    notes.push('The uncertainty of the reference is not known: the bias is judged as if it were none');
  }
  if (reference !== null && (grid.runs === 2 || (grid.runs === 1 && grid.sessions === 2))) {
    notes.push('The bias rests on two means only: it is known loosely');
  }
  if (finestOhms > repeatability.sdOhms) notes.push(COARSE_NOTE);
  return notes;
}
