import { isShort } from './agreement.ts';
import type { CaptureSetting } from './setting.ts';

/** Touches of the tips that may be the sign "this piece is open". */
export interface Taps {
  /** The contact that goes on now: since when, and whether it looked like tips, and was steady at a value of theirs or another. */
  touch: { since: number; short: boolean; steadyShort: boolean; steadyElsewhere: boolean } | null;
  /** When each tap before began. */
  before: readonly number[];
  /** When a tap began that was as steady as a shorted piece and too brief; null where there is none. */
  doubtful: number | null;
}

export const NO_TAPS: Taps = { touch: null, before: [], doubtful: null };

const NO_TOUCH = { short: false, steadyShort: false, steadyElsewhere: false };

/** Something conducts. @param agreeing how many readings agree, this one included */
export function touched(taps: Taps, at: number, ohms: number, agreeing: number, setting: CaptureSetting): Taps {
  const touch = taps.touch ?? { ...NO_TOUCH, since: at };
  const short = isShort(ohms, setting);
  return {
    ...taps,
    touch: {
      since: touch.since,
      short: touch.short || short,
      steadyShort: touch.steadyShort || (short && agreeing >= setting.settledReadings),
      steadyElsewhere: touch.steadyElsewhere || (!short && agreeing > 1),
    },
  };
}

/**
 * The leads are open for certain. A touch was a tap where it looked like tips and was steady nowhere else: at its beginning and
 * its end the meter averages over contact and no contact, and on a high range open leads take their time to charge.
 * @returns how many taps there were within the time for them, up to the last one
 */
export function lifted(taps: Taps, at: number, { tapsMilliseconds }: CaptureSetting): { taps: Taps; count: number } {
  const { touch, doubtful } = taps;
  if (touch === null) return { taps, count: taps.before.length };
  // A piece between two taps is no sign.
  if (!touch.short || touch.steadyElsewhere) return { taps: { touch: null, before: [], doubtful }, count: 0 };
  const before = [...taps.before.filter((since) => at - since <= tapsMilliseconds), touch.since];
  return {
    taps: { touch: null, before, doubtful: doubtful ?? (touch.steadyShort ? touch.since : null) },
    count: before.length,
  };
}

/** Whether a doubtful tap has stayed the only one, so that it may have been a shorted piece. */
export function wasShortedPiece({ doubtful, touch, before }: Taps, at: number, setting: CaptureSetting): boolean {
  return doubtful !== null && !touch?.short && before.length < 2 && at - doubtful > setting.tapsMilliseconds;
}
