import type { Verdict } from '../../core/window/judge.ts';

/** A tone: when it begins and how long it lasts, in seconds, its pitch in hertz. */
export interface Tone {
  at: number;
  lasts: number;
  hertz: number;
}

export type SoundName =
  | 'contact'
  | 'heard'
  | 'pass'
  | 'conditional-pass'
  | 'conditional-fail'
  | 'fail'
  | 'open'
  | 'trouble';

/**
 * Told apart by rhythm alone; pitch only helps. A tick says that something was noticed and a tone that a reading counts: one
 * tick for contact, two for "heard" (somebody said that the piece is open). One tone conforms, two do not, and on condition
 * the last of them is drawn out: pass short, conditional pass long, fail short short, conditional fail short long. Open is
 * long short, trouble three low. From class to class (tick, short, long) a tone lasts at least twice as long.
 */
export const SOUNDS: Record<SoundName, readonly Tone[]> = {
  contact: [{ at: 0, lasts: 0.025, hertz: 1320 }],
  heard: [
    { at: 0, lasts: 0.025, hertz: 1320 },
    { at: 0.12, lasts: 0.025, hertz: 1320 },
  ],
  pass: [{ at: 0, lasts: 0.11, hertz: 880 }],
  'conditional-pass': [{ at: 0, lasts: 0.34, hertz: 880 }],
  'conditional-fail': [
    { at: 0, lasts: 0.12, hertz: 440 },
    { at: 0.2, lasts: 0.34, hertz: 440 },
  ],
  fail: [
    { at: 0, lasts: 0.12, hertz: 440 },
    { at: 0.2, lasts: 0.12, hertz: 440 },
  ],
  open: [
    { at: 0, lasts: 0.34, hertz: 554 },
    { at: 0.42, lasts: 0.1, hertz: 554 },
  ],
  trouble: [
    { at: 0, lasts: 0.14, hertz: 165 },
    { at: 0.22, lasts: 0.14, hertz: 165 },
    { at: 0.44, lasts: 0.14, hertz: 165 },
  ],
};

/** Pitch of the tone that sounds for as long as a circuit is closed, in hertz. */
export const CLOSED_HERTZ = 660;

/** The sound of a verdict; low and high sound the same. */
export function soundOf(verdict: Verdict): SoundName {
  switch (verdict) {
    case 'conditional-fail-low':
    case 'conditional-fail-high':
      return 'conditional-fail';
    case 'fail-low':
    case 'fail-high':
      return 'fail';
    default:
      return verdict;
  }
}

/** The sound of a reading in a study: that it was taken. How it stands must not lead the operator. */
export const TAKEN: SoundName = 'pass';
