import type { LiveBy } from '../../core/contract/contract.ts';

/** Who says when a reading is taken: a key for each, the hands by touching a piece with the probes, or the meter's trigger. */
export type TakenBy = 'key' | LiveBy;

export const TAKEN_BY_WORDS: Record<TakenBy, string> = {
  key: 'Each by key',
  hands: 'Hands-free',
  trigger: 'Meter’s trigger',
};

/** What it is like, for whoever chooses. */
export const TAKEN_BY_HINTS: Record<TakenBy, string> = {
  key: 'Put a piece on the probes, then press Space or a foot switch.',
  hands: 'Touch a piece with the probes, hold still until it sounds, lift. The next touch is the next piece.',
  trigger: 'The meter reads when its own trigger is pressed, by a button, a foot switch or a fixture wired to it.',
};
