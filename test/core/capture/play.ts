import { ARMED, type Capture, type Outcome, sayOpen, take } from '../../../core/capture/capture.ts';
import type { CaptureSetting } from '../../../core/capture/setting.ts';
import type { StreamReading } from './circuit.ts';

/** An outcome, and the reading that brought it about. */
export interface Happened {
  at: number;
  ohms: number | null;
  outcome: NonNullable<Outcome>;
}

/** What capture makes of a stream. @param says when somebody said by key that the piece is open */
export function play(
  readings: readonly StreamReading[],
  setting: CaptureSetting,
  says: readonly number[] = [],
): { happened: Happened[]; last: Capture } {
  const happened: Happened[] = [];
  let last = ARMED;
  let said = 0;
  for (const reading of readings) {
    while ((says[said] ?? Number.POSITIVE_INFINITY) <= reading.atMilliseconds) {
      last = sayOpen(last, says[said++] as number);
    }
    const { capture, outcome } = take(last, reading, setting);
    last = capture;
    if (outcome) happened.push({ at: reading.atMilliseconds, ohms: reading.ohms, outcome });
  }
  return { happened, last };
}

/** The captures among what happened. */
export function capturesIn(happened: readonly Happened[]): Happened[] {
  return happened.filter(({ outcome }) => outcome.kind === 'captured' || outcome.kind === 'captured-open');
}
