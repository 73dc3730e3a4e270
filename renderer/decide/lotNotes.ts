import { analysisOfRun } from '../../core/inspection/analysisOfRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { ShapeKind } from '../../core/statistics/shape.ts';

/** Shapes that say how a lot came to be, which no tally of its pieces shows. */
const TELLING: ReadonlySet<ShapeKind> = new Set(['hole-in-the-middle', 'cut-tails', 'one-tail-cut', 'two-populations']);

/**
 * What the readings together say that who decides the lot must not miss, in sentences: that it looks sorted or mixed, or that
 * its value leaves the window further along the reel. It changes nothing in what the plan allows.
 */
export function lotNotes(run: Pick<Run, 'readings' | 'window' | 'lot' | 'positions'>): string[] {
  const { shape, trend } = analysisOfRun(run).analysis;
  return [...(TELLING.has(shape.kind) ? [shape.words] : []), ...(trend.leavesAt ? [trend.words] : [])];
}
