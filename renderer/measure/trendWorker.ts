import type { LeavesAt } from '../../core/drift/reelTrend.ts';
import { RunningTrend } from '../../core/drift/runningTrend.ts';
import { placeOf } from '../../core/inspection/analysisOfRun.ts';
import { judgedIn, type PackedJudged } from '../../core/inspection/packedReadings.ts';
import { counts } from '../../core/inspection/run.ts';
import type { Limits } from '../../core/statistics/values.ts';

/** What the worker is told: a reel begins, or readings of it. */
export type ToTrend = { kind: 'begin'; limits: Limits; lotSize: number } | { kind: 'readings'; page: PackedJudged };

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
  const judged = judgedIn(data.page);
  for (let place = 0; place < data.page.count; place++) {
    const reading = judged(place);
    if (counts(reading) && reading.ohms !== null) reel?.trend.add(Number(reading.ohms), placeOf(reading));
  }
  if (due === null) due = setTimeout(look, pause);
});

function look(): void {
  due = null;
  if (!reel) return;
  const began = performance.now();
  postMessage(reel.trend.leavesAt(reel.limits, reel.lotSize) satisfies FromTrend);
  pause = Math.max(SHORTEST_PAUSE_MILLISECONDS, PAUSE_PER_WORK * (performance.now() - began));
}
