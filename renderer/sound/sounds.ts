import type { Verdict } from '../../core/window/judge.ts';

/** A tone: when it begins and how long it lasts, in seconds, its pitch in hertz. */
export interface Tone {
  at: number;
  lasts: number;
  hertz: number;
}

export type SoundName = 'pass' | 'fail' | 'open' | 'trouble';

/** Told apart by rhythm alone: one short; two; long and short; three low. Pitch only helps. */
export const SOUNDS: Record<SoundName, readonly Tone[]> = {
  pass: [{ at: 0, lasts: 0.07, hertz: 880 }],
  fail: [
    { at: 0, lasts: 0.12, hertz: 440 },
    { at: 0.2, lasts: 0.12, hertz: 440 },
  ],
  open: [
    { at: 0, lasts: 0.34, hertz: 554 },
    { at: 0.42, lasts: 0.08, hertz: 554 },
  ],
  trouble: [
    { at: 0, lasts: 0.14, hertz: 165 },
    { at: 0.22, lasts: 0.14, hertz: 165 },
    { at: 0.44, lasts: 0.14, hertz: 165 },
  ],
};

/** The sound of a verdict; fail low and fail high sound the same. */
export function soundOf(verdict: Verdict): SoundName {
  return verdict === 'pass' || verdict === 'open' ? verdict : 'fail';
}
