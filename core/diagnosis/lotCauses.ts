import { type LotSeen, lotSeen } from './lotSeen.ts';
import { meterCauses } from './meterCauses.ts';
import type { LotCause, LotExplained, OddLot } from './oddLot.ts';
import { openCauses } from './openCauses.ts';
import { populationCauses } from './populationCauses.ts';
import { reelCauses } from './reelCauses.ts';
import { timeCauses } from './timeCauses.ts';
import { unsteadyCauses } from './unsteadyCauses.ts';
import { wholeLotCauses } from './wholeLotCauses.ts';

/** With fewer readings nothing is said of the lot: each is looked at by itself. Our choice. */
export const LEAST_READINGS = 5;

const SHAPES: readonly LotCause[] = ['sorted lot', 'mixed reel', 'strays of another value'];
const PLACES: readonly LotCause[] = ['spliced reel', 'trend along the reel', 'off its value'];
const VALUES: readonly LotCause[] = ['decade slip', 'bands from the other end', 'another preferred value'];

/** What follows from a cause and is not said beside it. */
const FOLLOWS: Partial<Record<LotCause, readonly LotCause[]>> = {
  'source connected': [
    ...SHAPES,
    ...PLACES,
    ...VALUES,
    'unstable contact',
    'warming',
    'wrong range or function',
    'open pieces',
    'a path beside each piece',
    'fingers on the tips',
    'added lead or contact resistance',
    'broken lead',
    'shorts throughout',
  ],
  'wrong range or function': [
    ...SHAPES,
    'warming',
    'spliced reel',
    'trend along the reel',
    'unstable contact',
    'off its value',
    'added lead or contact resistance',
    'a path beside each piece',
  ],
  'shorts throughout': [...SHAPES, ...PLACES, 'wrong range or function', 'unstable contact'],
  'meter drift': [...PLACES, ...SHAPES, 'warming', 'added lead or contact resistance', 'a path beside each piece'],
  'unstable contact': [...SHAPES, ...PLACES, 'warming', 'added lead or contact resistance', 'open pieces'],
  'fingers on the tips': [...SHAPES, ...PLACES, ...VALUES, 'a path beside each piece', 'warming', 'unstable contact'],
  warming: ['spliced reel', 'trend along the reel', ...SHAPES],
  'spliced reel': [...SHAPES, 'off its value', 'a path beside each piece', 'added lead or contact resistance'],
  'trend along the reel': [
    'sorted lot',
    'mixed reel',
    'off its value',
    'a path beside each piece',
    'added lead or contact resistance',
  ],
  'decade slip': ['another preferred value', 'off its value', 'a path beside each piece', 'fingers on the tips'],
  'mixed reel': [
    'off its value',
    'a path beside each piece',
    'added lead or contact resistance',
    'another preferred value',
  ],
};

/**
 * What may be wrong with a lot or with the bench it was measured on, best first; empty where nothing odd is seen. It never changes a
 * verdict. Causes whose weights are near each other cannot be told apart (`notToldApart`).
 */
export function lotCauses(lot: OddLot): LotExplained[] {
  const counting = lot.readings.filter(({ counts }) => counts);
  if (counting.length < LEAST_READINGS) return [];
  const seen = lotSeen(lot);
  const found = [...openCauses(counting), ...(seen ? ofValues(seen) : [])];
  const best = [...bestOf(found).values()].sort((a, b) => b.weight - a.weight);
  const followed = new Set(
    best.flatMap(({ cause, weight }) => (FOLLOWS[cause] ?? []).filter((other) => isWeaker(best, other, weight))),
  );
  return best.filter(({ cause }) => !followed.has(cause));
}

function ofValues(seen: LotSeen): LotExplained[] {
  return [meterCauses, unsteadyCauses, timeCauses, wholeLotCauses, reelCauses, populationCauses].flatMap((causes) =>
    causes(seen),
  );
}

/** What follows from another is weaker than it, or it would be the cause. */
function isWeaker(all: readonly LotExplained[], cause: LotCause, weight: number): boolean {
  return all.some((one) => one.cause === cause && one.weight <= weight);
}

/** A cause found in two ways once, by its better evidence. */
function bestOf(found: readonly LotExplained[]): Map<LotCause, LotExplained> {
  const best = new Map<LotCause, LotExplained>();
  for (const one of found) if (one.weight > (best.get(one.cause)?.weight ?? 0)) best.set(one.cause, one);
  return best;
}
