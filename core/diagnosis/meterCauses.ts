import { stepOf } from '../statistics/step.ts';
import { ohmsText, percentText } from './causeWords.ts';
import type { LotSeen } from './lotSeen.ts';
import type { LotExplained } from './oddLot.ts';

/** Below zero by more of the nominal value than this, or than so many standard deviations of a reading, no resistor reads. */
const BELOW_ZERO_SHARE = 1e-3;
const BELOW_ZERO_NOISES = 6;
/** A last digit worth more of the window cannot tell a good piece from a bad one (the rule of ten, common practice). */
const COARSEST_STEP = 0.1;
const LEAST_READINGS = 5;

/** What a meter shows that measures something else than resistance, or not finely enough. */
export function meterCauses(lot: LotSeen): LotExplained[] {
  return [...source(lot), ...coarse(lot)];
}

/** Current that does not come from the meter: values no resistor can have. */
function source({ seen, nominal, noise }: LotSeen): LotExplained[] {
  const least = -Math.max(BELOW_ZERO_SHARE * nominal, BELOW_ZERO_NOISES * noise);
  const below = seen.filter(({ ohms }) => ohms < least);
  const lowest = below.reduce((least, { ohms }) => Math.min(least, ohms), 0);
  if (below.length === 0) return [];
  return [
    {
      cause: 'source connected',
      weight: 0.98,
      evidence: `${below.length} of ${seen.length} readings are below zero, down to ${ohmsText(lowest)}: no resistor is. A voltage on the part makes such readings.`,
      next: 'Take the tips off. Have the part switched off, isolated and discharged by the local rules, and do the check for voltage again before anything else.',
    },
  ];
}

function coarse({ sorted, halfWindow, lot }: LotSeen): LotExplained[] {
  if (sorted.length < LEAST_READINGS) return [];
  const step = stepOf(sorted, lot.resolutionOhms);
  const window = 2 * halfWindow;
  if (step === null || step < COARSEST_STEP * window) return [];
  const different = sorted.reduce((count, ohms, index) => (ohms === sorted[index - 1] ? count : count + 1), 0);
  return [
    {
      cause: 'wrong range or function',
      weight: 0.95,
      evidence: `The readings come in steps of ${ohmsText(step, 3)}, which is ${percentText(step / window)} of the window; there are ${different} different values among ${sorted.length}.`,
      next: 'Set the lowest range that takes the value, see that the function is resistance, and take the pieces again.',
    },
  ];
}
