import Big from 'big.js';
import { nearestPreferred } from '../marking/preferred.ts';
import { across, type Corner, type CornerName } from './corner.ts';
import type { Fault, FaultKind } from './faults.ts';
import type { Network } from './network.ts';
import type { NetworkAnalysis } from './networkAnalysis.ts';

/** Something that gives a reading like the one that was measured. In ohms; infinity is open. */
export interface Explanation {
  /**
   * `good`: nothing is wrong; a resistor `open` or `short`; `sources` left connected, giving no voltage; `other value`: a resistor is of another
   * preferred value.
   */
  what: 'good' | FaultKind | 'sources' | 'other value';
  /** The resistor; null where it is none. */
  name: string | null;
  /** Of `other value`, what it would be. */
  is: number | null;
  ohms: number;
  /** What would be read, worst case. */
  lowest: number;
  highest: number;
}

/** What was measured: infinity for the meter's overload, and the expanded uncertainty of it, 0 where it is not known. */
export interface MeasuredOhms {
  ohms: number;
  expandedOhms: number;
}

/** Of a larger network only faults are looked through: any of its values could be another. */
const MOST_FOR_VALUES = 200;
/** Preferred values that are made at all tolerances (common practice). */
const VALUES = 'E24';
const ROUNDING = 1e-12;
/** What is further away is a short or an open, rather than another value. Our choice. */
const MOST_DECADES = 3.001;

/**
 * What explains a reading, best first: what the tolerances allow comes before what is odder. A good network stands first; then single opens and
 * shorts, by how near their own reading comes; then another preferred value in one place, those off by whole decades first. Empty where no
 * single thing explains it. More than one that is not `good` means that this reading cannot tell between them.
 */
export function explanationsOf(
  network: Network,
  analysis: Pick<NetworkAnalysis, 'expected' | 'faults' | 'sourcesLeft' | 'corners'>,
  measured: MeasuredOhms,
): Explanation[] {
  const { expected, faults, sourcesLeft, corners } = analysis;
  const good = { what: 'good', name: null, is: null, ohms: expected.nominal, ...ends(expected) } as const;
  const left = sourcesLeft && {
    what: 'sources' as const,
    name: null,
    is: null,
    ohms: sourcesLeft.ohms,
    ...around(sourcesLeft.ohms, expected),
  };
  const single = faults
    .filter(({ shows }) => shows !== 'never')
    .map(({ name, kind, ohms, lowest, highest }: Fault) => ({ what: kind, name, is: null, ohms, lowest, highest }));
  const near = [...single, ...(left ? [left] : [])]
    .filter((each) => explains(each, measured))
    .sort((a, b) => awayFrom(a, measured) - awayFrom(b, measured));
  return [...[good].filter((each) => explains(each, measured)), ...near, ...otherValues(network, corners, measured)];
}

function ends({ lowest, highest }: { lowest: number; highest: number }): { lowest: number; highest: number } {
  return { lowest, highest };
}

/** With the same spread, by its size, as the good network has. */
function around(ohms: number, { nominal, lowest, highest }: NetworkAnalysis['expected']) {
  if (nominal === 0 || nominal === Number.POSITIVE_INFINITY) return { lowest: ohms, highest: ohms };
  return { lowest: (ohms * lowest) / nominal, highest: (ohms * highest) / nominal };
}

function explains({ lowest, highest }: Pick<Explanation, 'lowest' | 'highest'>, measured: MeasuredOhms): boolean {
  const { ohms, expandedOhms } = measured;
  if (ohms === Number.POSITIVE_INFINITY) return highest === ohms;
  // A value on a limit is inside, and its last digits are rounding.
  const most = expandedOhms + ROUNDING * ohms;
  return ohms + most >= lowest && ohms - most <= highest;
}

/** How far a reading is from what would be read, by the half of what it may be away. */
function awayFrom({ ohms, lowest, highest }: Explanation, measured: MeasuredOhms): number {
  if (ohms === measured.ohms) return 0;
  const most = (highest - lowest) / 2 + measured.expandedOhms;
  // Those that read the same stand in the order of the description, whatever their last digits.
  return Number((Math.abs(measured.ohms - ohms) / (most || Math.max(ohms, 1e-9))).toPrecision(6));
}

function otherValues(network: Network, corners: Record<CornerName, Corner>, measured: MeasuredOhms): Explanation[] {
  if (network.resistors.length > MOST_FOR_VALUES || measured.ohms === Number.POSITIVE_INFINITY) return [];
  const found = network.resistors.flatMap(({ name, ohms }, index) => {
    const implied = impliedOhms(corners.nominal, index, measured.ohms);
    if (implied === null) return [];
    const is = Number(nearestPreferred(new Big(implied).toFixed(), VALUES)?.nearest ?? Number.NaN);
    if (!(is > 0) || is === Number(ohms) || decadesApart(is / Number(ohms)) > MOST_DECADES) return [];
    const at = (corner: CornerName) => ohmsWith(corners[corner], index, is * shareAt(corners, corner, index));
    const each = {
      what: 'other value' as const,
      name,
      is,
      ohms: at('nominal'),
      lowest: at('lowest'),
      highest: at('highest'),
    };
    return explains(each, measured) ? [{ ...each, isDecade: isDecade(is / Number(ohms)) }] : [];
  });
  return found
    .sort((a, b) => Number(b.isDecade) - Number(a.isDecade) || awayFrom(a, measured) - awayFrom(b, measured))
    .map(({ isDecade: _, ...each }) => each);
}

/** What one resistor would have to be, all others being at their nominal values; null where no value of it gives that reading. */
export function impliedOhms(nominal: Corner, index: number, measured: number): number | null {
  const { ohms, drop, branches } = nominal;
  const own = branches[index]?.ohms ?? 0;
  if (own === 0 || ohms === Number.POSITIVE_INFINITY) return null;
  const less = ohms - measured;
  const change = less / ((drop[index] as number) ** 2 - less * across(nominal, index));
  const siemens = 1 / own + change;
  return siemens > 0 && Number.isFinite(siemens) ? 1 / siemens : null;
}

/** The reading with another value of one resistor; Sherman and Morrison as in faults.ts. */
function ohmsWith(corner: Corner, index: number, value: number): number {
  const { ohms, drop, branches } = corner;
  const change = 1 / value - 1 / (branches[index]?.ohms ?? 1);
  return ohms - (change * (drop[index] as number) ** 2) / (1 + change * across(corner, index));
}

/** A resistor of another value has the tolerance, in per cent, of the one that should be there. */
function shareAt(corners: Record<CornerName, Corner>, corner: CornerName, index: number): number {
  return (corners[corner].branches[index]?.ohms ?? 1) / (corners.nominal.branches[index]?.ohms ?? 1);
}

function decadesApart(ratio: number): number {
  return Math.abs(Math.log10(ratio));
}

/** Off by one to three whole decades: a marking misread, or a reel of another multiplier. */
function isDecade(ratio: number): boolean {
  const decades = decadesApart(ratio);
  return [1, 2, 3].some((whole) => Math.abs(decades - whole) < 1e-9);
}
