import { lotCauses } from '../../core/diagnosis/lotCauses.ts';
import type { LotCause } from '../../core/diagnosis/oddLot.ts';
import { notToldApart } from '../../core/diagnosis/readingCauses.ts';
import { analysisOfRun } from '../../core/inspection/analysisOfRun.ts';
import { oddLotOf } from '../../core/inspection/oddLotOf.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { ShapeKind } from '../../core/statistics/shape.ts';

/** Shapes that say how a lot came to be, which no tally of its pieces shows. */
const TELLING: ReadonlySet<ShapeKind> = new Set(['hole-in-the-middle', 'cut-tails', 'one-tail-cut', 'two-populations']);
/** Causes that say as much as a shape. */
const OF_THE_SHAPE: ReadonlySet<LotCause> = new Set<LotCause>(['sorted lot', 'mixed reel', 'spliced reel']);

/**
 * What the readings together say that who decides the lot must not miss, in sentences: what may be wrong with lot or bench, that it
 * looks sorted or mixed, or that its value leaves the window further along the reel. It changes nothing in what the plan allows.
 */
export function lotNotes(
  run: Pick<Run, 'readings' | 'window' | 'lot' | 'positions' | 'part' | 'measurement' | 'references'>,
): string[] {
  const { shape, trend } = analysisOfRun(run).analysis;
  const causes = lotCauses(oddLotOf(run));
  const first = causes.slice(0, notToldApart(causes));
  const isShapeSaid = first.some(({ cause }) => OF_THE_SHAPE.has(cause));
  return [
    ...(first.length > 0 ? [`It may be: ${first.map(({ cause }) => cause).join(', or ')}. ${first[0]?.evidence}`] : []),
    ...(TELLING.has(shape.kind) && !isShapeSaid ? [shape.words] : []),
    ...(trend.leavesAt ? [trend.words] : []),
  ];
}
