import type { Live } from '../../core/contract/contract.ts';
import { type ProblemText, problem } from '../../core/problem/problem.ts';

/** What a piece of news is to the screen that has begun a capture. */
export type CaptureNews =
  /** It goes on without this screen, or not at all; `isTold`: whoever has the run open hears of it anyhow. */
  | { ended: ProblemText; isTold: boolean }
  /** What went wrong at the probes, in words; null where it is past. */
  | { trouble: string | null };

/**
 * What the news says of the capture with this number; null where it says nothing new of it. Numbers rise: one that is higher has
 * taken its place.
 */
export function captureNews(now: Live | null, capture: number): CaptureNews | null {
  if (now === null || now.capture < capture) return null;
  if (now.capture > capture || now.phase === 'off') {
    const why = now.capture === capture ? now.why : undefined;
    return {
      ended: why ?? problem('capture-ended', 'another screen of this station ended it'),
      isTold: why !== undefined,
    };
  }
  if (now.outcome === 'trouble') return { trouble: now.troubleWords ?? '' };
  return now.outcome === undefined || now.outcome === 'released' ? null : { trouble: null };
}
