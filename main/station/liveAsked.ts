import type { Answers, CheckedQuestion } from '../../core/contract/contract.ts';
import { problem } from '../../core/problem/problem.ts';
import type { CaptureSession } from './captureSession.ts';
import type { ContinuityWatch } from './continuityWatch.ts';

type Asked = 'start-capture' | 'stop-capture' | 'say-open' | 'start-continuity' | 'stop-continuity';

/**
 * What is asked of readings that the meter takes by itself.
 * @param seat where the meter of a run sits; @param isBusy whether the meter is wanted for something that must not be cut short
 */
export function liveAsked(
  capture: CaptureSession,
  continuity: ContinuityWatch,
  seat: { release: () => Promise<void> },
  isBusy: () => boolean,
): { [N in Asked]: (question: CheckedQuestion<N>) => Promise<Answers[N]> } {
  return {
    'start-capture': ({ run, by, setting }) => capture.start(run, by, setting),
    'stop-capture': async ({ capture: number }) => {
      await capture.stop(null, number);
      return {};
    },
    'say-open': async ({ run }) => {
      capture.sayOpen(run);
      return {};
    },
    'start-continuity': async ({ address, closedBelowOhms }) => {
      if (isBusy() && !capture.isOn) throw problem('reading-under-way');
      await capture.stop(problem('capture-ended', 'the meter tells closed from open now'));
      await seat.release();
      await continuity.start(address, closedBelowOhms);
      return {};
    },
    'stop-continuity': async () => {
      await continuity.stop();
      return {};
    },
  };
}
