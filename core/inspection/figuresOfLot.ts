import { withoutStrays } from '../drift/withoutStrays.ts';
import { summaryOf } from '../statistics/summary.ts';
import { isRefused } from '../statistics/values.ts';
import { analysisOfRun } from './analysisOfRun.ts';
import { counts, type Run } from './run.ts';

/** What the readings of a lot come to which count and have a value, those of quite another value left out (core/drift/withoutStrays.ts). */
export interface FiguresOfLot {
  count: number;
  /** How many of quite another value were left out. */
  leftOut: number;
  /** Null of no readings. */
  meanOhms: number | null;
  /** With n - 1; null of fewer than two. */
  standardDeviationOhms: number | null;
  lowestOhms: number | null;
  highestOhms: number | null;
}

/** Of more readings the whole analysis takes longer than whoever decides a lot should wait. */
const MOST_ANALYSED = 200_000;

/** @param ohms the values that count. @throws problem figure-not-finite */
export function figuresOfValues(ohms: readonly number[]): FiguresOfLot {
  const { kept, leftOut } = withoutStrays(ohms);
  const found = summaryOf(kept);
  const figures = isRefused(found) ? null : found;
  return {
    count: kept.length,
    leftOut,
    meanOhms: figures?.mean ?? null,
    standardDeviationOhms: figures?.standardDeviation ?? null,
    lowestOhms: figures?.lowest ?? null,
    highestOhms: figures?.highest ?? null,
  };
}

/** All of a run at once. @throws problem figure-not-finite */
export function figuresOfLot(run: Run): FiguresOfLot {
  const ohms: number[] = [];
  for (const one of run.readings.judged()) if (counts(one) && one.ohms !== null) ohms.push(Number(one.ohms));
  return figuresOfValues(ohms);
}

/**
 * The capability index Ppk of a run as its certificate has it; null where that quotes none, or of more than 200 000 readings.
 * @throws problem figure-not-finite
 */
export function ppkOf(run: Run): number | null {
  if (run.readings.size > MOST_ANALYSED) return null;
  const { shape, capability } = analysisOfRun(run).analysis;
  if (!shape.quoteCapability || isRefused(capability) || isRefused(capability.overall)) return null;
  return capability.overall.actual.value;
}
