import type { LeavesAt } from '../../core/drift/reelTrend.ts';
import { RunningTrend } from '../../core/drift/runningTrend.ts';
import type { Limits } from '../../core/statistics/values.ts';

/** What the worker is told: a reel begins, or readings of it that count. */
export type ToTrend =
  | { kind: 'begin'; limits: Limits; lotSize: number }
  /** Values in ohms, and where along the reel their pieces were. */
  | { kind: 'readings'; values: Float64Array; places: Float64Array };

/** What it says: where the trend leaves the window. */
export type FromTrend = LeavesAt | null;

/** The working out takes at most about a tenth of one core. */
const PAUSE_PER_WORK = 9;
const SHORTEST_PAUSE_MILLISECONDS = 200;

let reel: { trend: RunningTrend; limits: Limits; lotSize: number } | null = null;
let due: ReturnType<typeof setTimeout> | null = null;
let pause = SHORTEST_PAUSE_MILLISECONDS;

addEventListener('message', ({ data }: MessageEvent<ToTrend>) => {
  if (data.kind === 'begin') {
    reel = { trend: new RunningTrend(), limits: data.limits, lotSize: data.lotSize };
    return;
  }
  const { values, places } = data;
  values.forEach((value, index) => {
    reel?.trend.add(value, places[index] as number);
  });
  if (due === null) due = setTimeout(look, pause);
});

function look(): void {
  due = null;
  if (!reel) return;
  const began = performance.now();
  postMessage(reel.trend.leavesAt(reel.limits, reel.lotSize) satisfies FromTrend);
  pause = Math.max(SHORTEST_PAUSE_MILLISECONDS, PAUSE_PER_WORK * (performance.now() - began));
}
