import type { Place } from './place.ts';

/** The tips touch something from one moment of the bench's clock to another, in milliseconds; between touches they are open. */
export interface Touch {
  place: Place;
  from: number;
  until: number;
}

/** From when to when the meter integrates, in milliseconds of the bench's clock. */
export interface Window {
  from: number;
  until: number;
}

/** What is charged and discharged through the piece: leads, fixture, the meter itself. */
export const STRAY_FARADS = 1e-9;
/** Where the input stands while nothing conducts, in full scales: the current source has no more voltage to give. Invented. */
const OPEN_FULL_SCALES = 2;

/**
 * What an integrating meter makes of its input over a window in which contact comes and goes, in ohms: the mean. With each
 * contact the input falls from where it stands while open to what is touched, by the time constant of that with the stray
 * capacitance (charging of a capacitor through a resistor: exponential).
 * @param ohmsOf what is seen at the input once it has settled, null where nothing conducts
 * @param fullScale of the range, in ohms
 */
export function meanOver(
  window: Window,
  touches: readonly Touch[],
  ohmsOf: (place: Place) => number | null,
  fullScale: number,
): number {
  const open = OPEN_FULL_SCALES * fullScale;
  let total = 0;
  let touching = 0;
  for (const { place, from, until } of touches) {
    const begins = Math.max(from, window.from);
    const ends = Math.min(until, window.until);
    if (ends <= begins) continue;
    const settled = Math.min(ohmsOf(place) ?? open, open);
    const constant = settled * STRAY_FARADS * 1000;
    const left = constant === 0 ? 0 : Math.exp((from - begins) / constant) - Math.exp((from - ends) / constant);
    total += settled * (ends - begins) + (open - settled) * constant * left;
    touching += ends - begins;
  }
  const length = window.until - window.from;
  return (total + open * (length - touching)) / length;
}

/** What the tips touch at a moment; open where they touch nothing. */
export function placeAt(touches: readonly Touch[], at: number): Place {
  return touches.find(({ from, until }) => from <= at && at < until)?.place ?? 'OPEN';
}

/** What the tips touched last within a window; null where nothing was touched in it. */
export function lastPlaceIn(window: Window, touches: readonly Touch[]): Place | null {
  return touches.findLast(({ from, until }) => from < window.until && until > window.from)?.place ?? null;
}
