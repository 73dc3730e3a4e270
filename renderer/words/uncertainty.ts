import type { Reading, Uncertainty } from '../../core/inspection/run.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { degreesOfFreedomOf, probabilityWrong, standardOhms } from '../../core/uncertainty/risk.ts';
import { conforms } from '../../core/window/judge.ts';
import type { Window } from '../../core/window/window.ts';

/** The uncertainty of a value, like `±2.1 Ω (k = 2.00)`. */
export function uncertaintyText({ expandedOhms, coverageFactor }: Uncertainty): string {
  return `±${formatOhms(expandedOhms).replace(' ', '\u00a0')} (k\u00a0=\u00a0${coverageFactor})`;
}

/** The probability that the verdict of a reading is wrong, 0 to 1; null where its uncertainty is not known. */
export function wrongOf(reading: Pick<Reading, 'ohms' | 'uncertainty' | 'verdict'>, window: Window): number | null {
  const { ohms, uncertainty, verdict } = reading;
  if (ohms === null || uncertainty === null) return null;
  return probabilityWrong(conforms(verdict), ohms, standardOhms(uncertainty), window, degreesOfFreedomOf(uncertainty));
}
