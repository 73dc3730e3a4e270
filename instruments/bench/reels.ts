import { uniformAt } from './random.ts';
import type { BenchScenarioInput } from './scenario.ts';

/**
 * Reels to practise on. `usual`: a good lot, now and then a poor one. `drifting`: the value moves along the reel.
 * `sorted`: the pieces near the nominal value were picked out for a better class. `cut`: a wide lot whose tails were cut off
 * at the window. `mixed`: two lots on one reel. `strays`: single pieces of another value.
 */
export const REEL_NAMES = ['usual', 'drifting', 'sorted', 'cut', 'mixed', 'strays'] as const;
export type ReelName = (typeof REEL_NAMES)[number];

const SIDE_KEY = 15;

/** Each in half widths of the window. All of it is invented. */
const SHAPES = {
  // It leaves the window somewhat beyond piece 400.
  drifting: { start: -0.3, spread: 0.1, perPiece: 0.003 },
  sorted: { spread: 0.55, hole: 0.3, cut: 0.95 },
  cut: { spread: 1, cut: 0.97 },
  // The valley between them is not in the middle of the window, as the hole of a sorted lot is.
  mixed: { first: -0.15, second: 0.6, share: 0.35, spread: 0.12 },
  strays: { spread: 0.22, off: 3, share: 0.02 },
};
/** How far a stray is off at least, as a share of the nominal value: about the next value of E24 (IEC 60063). */
const NEXT_VALUE = 0.1;

/**
 * The lot of a reel other than the usual one. Which way it is off follows from the seed.
 * @param centre where the lot is centred, in ohms; @param halfWidth how far a good piece may be from there, in ohms
 */
export function lotOf(
  reel: Exclude<ReelName, 'usual'>,
  seed: number,
  centre: number,
  halfWidth: number,
): NonNullable<BenchScenarioInput['lot']> {
  const side = uniformAt(seed, SIDE_KEY) < 0.5 ? -1 : 1;
  const percent = (halfWidths: number) => (100 * halfWidths * halfWidth) / centre;
  const pure = { nominalOhms: centre, meanOffsetPercent: 0, shareOpen: 0, shareWrong: 0 };
  const { drifting, sorted, cut, mixed, strays } = SHAPES;
  switch (reel) {
    case 'drifting':
      return {
        ...pure,
        meanOffsetPercent: percent(side * drifting.start),
        spreadPercent: percent(drifting.spread),
        driftPpmPerPiece: percent(side * drifting.perPiece) * 1e4,
      };
    case 'sorted':
      return {
        ...pure,
        spreadPercent: percent(sorted.spread),
        pickedOutPercent: percent(sorted.hole),
        cutPercent: percent(sorted.cut),
      };
    case 'cut':
      return { ...pure, spreadPercent: percent(cut.spread), cutPercent: percent(cut.cut) };
    case 'mixed':
      return {
        ...pure,
        meanOffsetPercent: percent(side * mixed.first),
        spreadPercent: percent(mixed.spread),
        shareSecond: mixed.share,
        secondOffsetPercent: percent(side * mixed.second),
      };
    case 'strays':
      return {
        ...pure,
        spreadPercent: percent(strays.spread),
        shareWrong: strays.share,
        wrongOhms: Math.min(1e9, centre + Math.max(strays.off * halfWidth, NEXT_VALUE * centre)),
      };
  }
}
