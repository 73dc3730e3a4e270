import { Thinned } from '../../core/chart/thinned.ts';
import { placeOf } from '../../core/inspection/analysisOfRun.ts';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { isMarked } from '../charts/runSeries.ts';
import { standingOf } from '../verdict/verdictWords.ts';

/** Readings where their pieces were on the reel, and the points that are drawn of them, one for each. */
export interface ReelMap {
  readings: readonly Reading[];
  /** An overload lies beyond all others. */
  points: Thinned;
}

/** The readings of a run that are not void, rising along the reel; of the same place in the order they were taken. */
export function reelMapOf({ readings }: Pick<Run, 'readings'>): ReelMap {
  const there = readings.slice().filter((reading) => !reading.voided);
  there.sort((a, b) => placeOf(a) - placeOf(b) || a.reading - b.reading);
  const points = new Thinned(there.length);
  for (const reading of there) {
    const ohms = reading.ohms === null ? Number.POSITIVE_INFINITY : Number(reading.ohms);
    points.append(placeOf(reading), ohms, isMarked(standingOf(reading)));
  }
  return { readings: there, points };
}
