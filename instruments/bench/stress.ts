import { normalAt, uniformAt } from './random.ts';

/** Treatments the pieces on the bench can have had: dry heat, a load over weeks, a solder bath, storage in damp air. */
export const STRESS_NAMES = ['heat', 'load', 'solder', 'storage'] as const;
export type StressName = (typeof STRESS_NAMES)[number];

const CHANGE_KEY = 13;
const WEAK_KEY = 14;
const PPM = 1e-6;

/** How much pieces change: mean and standard deviation. Invented. */
const CHANGES: Record<StressName, { meanPpm: number; spreadPpm: number }> = {
  heat: { meanPpm: 300, spreadPpm: 200 },
  load: { meanPpm: 500, spreadPpm: 350 },
  solder: { meanPpm: 80, spreadPpm: 60 },
  storage: { meanPpm: 50, spreadPpm: 80 },
};
/** Weak pieces change so many times as much, whatever is done to them. */
const SHARE_WEAK = 0.02;
const WEAK_TIMES = 12;

/** By what share of itself piece n changes under a treatment, in millionths. It follows from seed, piece and treatment. */
export function changePpm(seed: number, piece: number, stress: StressName): number {
  const { meanPpm, spreadPpm } = CHANGES[stress];
  const times = uniformAt(seed, WEAK_KEY, piece) < SHARE_WEAK ? WEAK_TIMES : 1;
  return times * (meanPpm + spreadPpm * normalAt(seed, CHANGE_KEY, piece, STRESS_NAMES.indexOf(stress)));
}

/** Value of piece n after a treatment, in ohms. @param stress null for an untreated one */
export function ohmsAfter(seed: number, piece: number, ohms: number, stress: StressName | null): number {
  return stress === null ? ohms : ohms * (1 + changePpm(seed, piece, stress) * PPM);
}
