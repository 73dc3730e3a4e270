import type { MeterLink } from '../core/contract/contract.ts';
import { type Run, type Step, stepOf } from '../core/inspection/run.ts';

/**
 * Which step a run is shown at. The run itself says so; but without its meter on the bench it must be made ready again
 * before it can be measured.
 */
export function shownStep(run: Run, link: MeterLink, number: number): Step {
  const step = stepOf(run);
  // One that is still being connected stays where it was chosen, so that a refusal is read there.
  const meterHere = (link.state === 'connected' || link.state === 'lost') && link.run === number;
  return step === 'measure' && !meterHere ? 'ready' : step;
}
