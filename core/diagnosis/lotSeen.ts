import { percentile } from '../statistics/percentile.ts';
import { type SortedValues, sortedOf } from '../statistics/values.ts';
import { toleranceOhms } from '../window/window.ts';
import type { LotReading, OddLot } from './oddLot.ts';

/** A reading that has a value. */
export type Seen = LotReading & { ohms: number };

/** What all causes look at, worked out once. Doubles: nothing here decides a verdict. */
export interface LotSeen {
  lot: OddLot;
  nominal: number;
  /** How far a good piece may be from the nominal value. */
  halfWindow: number;
  /** That as a share of the nominal value. */
  share: number;
  /** A standard deviation of one reading: half of its expanded uncertainty, and no less than the last digit leaves. */
  noise: number;
  /** Readings that count and have a value, in the order they were taken. */
  seen: readonly Seen[];
  /** One value of each piece, the last one, along the reel. */
  along: readonly Seen[];
  sorted: SortedValues;
  median: number;
  /** A standard deviation that a few pieces far off do not widen: the interquartile range over 1.349. */
  spread: number;
  /** Readings of one piece one right after the other, whether they count or not, of pieces with more than one. */
  repeats: readonly (readonly Seen[])[];
}

const NORMAL_QUARTILES = 1.349;
/** How far the middle of a window may be from the nominal value, in half windows. Our choice. */
const MOST_UNEVEN = 0.2;
/** Standard deviation of what rounding to a step leaves (JCGM 100, F.2.2.1). */
const ROUNDING = Math.sqrt(12);

/** What is seen of a lot; null where its part has no nominal value with a window around it, or nothing has a value. */
export function lotSeen(lot: OddLot): LotSeen | null {
  const nominal = Number(lot.window.nominal ?? 0);
  const halfWindow = lot.window.nominal === null ? 0 : Number(toleranceOhms(lot.window));
  const valued = lot.readings.filter((reading): reading is Seen => reading.ohms !== null);
  const seen = valued.filter((reading) => reading.counts);
  if (nominal <= 0 || halfWindow <= 0 || seen.length === 0 || !isAround(lot.window, nominal, halfWindow)) return null;
  const lastOf = new Map<number, Seen>();
  for (const reading of seen) lastOf.set(reading.piece, reading);
  const along = [...lastOf.values()].sort((a, b) => a.position - b.position);
  const sorted = sortedOf(along.map(({ ohms }) => ohms));
  const at = (share: number) => percentile(sorted, share);
  const middle = at(0.5);
  return {
    lot,
    nominal,
    halfWindow,
    share: halfWindow / nominal,
    noise: Math.max((lot.expandedOhms ?? 0) / 2, (lot.resolutionOhms ?? 0) / ROUNDING),
    seen,
    along,
    sorted,
    median: middle,
    spread: (at(0.75) - at(0.25)) / NORMAL_QUARTILES,
    repeats: repeatsIn(valued),
  };
}

/** Whether the window lies about evenly around the nominal value: of any other what is far from it may be in order. */
function isAround({ lower, upper }: OddLot['window'], nominal: number, halfWindow: number): boolean {
  if (lower === null || upper === null) return false;
  return Math.abs((Number(lower) + Number(upper)) / 2 - nominal) <= MOST_UNEVEN * halfWindow;
}

function repeatsIn(seen: readonly Seen[]): Seen[][] {
  const groups: Seen[][] = [];
  let group: Seen[] = [];
  for (const reading of seen) {
    if (group.length > 0 && group[0]?.piece !== reading.piece) {
      if (group.length > 1) groups.push(group);
      group = [];
    }
    group.push(reading);
  }
  if (group.length > 1) groups.push(group);
  return groups;
}
