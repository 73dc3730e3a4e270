import { bridgesOf } from './bridges.ts';
import { across, anew, CORNERS, type Corner, type CornerName } from './corner.ts';
import type { Network } from './network.ts';

export type FaultKind = 'open' | 'short';

/** One resistor open, or shorted, all others good. In ohms; infinity where nothing joins the terminals any more. */
export interface Fault {
  name: string;
  kind: FaultKind;
  /** With all others at their nominal values. */
  ohms: number;
  /** Worst case of the others' tolerances. */
  lowest: number;
  highest: number;
  /**
   * Whether the reading shows it: `always`, its window being apart from that of the good network; `not always`, where the windows overlap;
   * `never`, where nothing changes between these terminals.
   */
  shows: 'always' | 'not always' | 'never';
  /** Number of the group of faults that give the very same reading, from 1; null where it is alone. They cannot be told apart from here. */
  alike: number | null;
}

/** Readings so near to each other, by their size, are the same: far below what any meter tells. */
const SAME = 1e-9;
/** Below this share of what it is made from, a difference has lost digits, and the circuit is worked out anew. */
const LOST = 1e-5;

/**
 * Every resistor open and shorted, in turn. One elimination of the circuit serves all: a change Δg of one conductance changes the resistance
 * between the terminals by -Δg d²/(1 + Δg r), d being the drop across it at 1 A and r the resistance across it (Sherman and Morrison,
 * 1950); an open is Δg = -g, a short infinite. Where that would lose digits the circuit is worked out anew, and a bridge, whose r is 1/g, is
 * found by the shape of the network.
 */
export function faultsOf(network: Network, corners: Record<CornerName, Corner>): Fault[] {
  const at = {
    nominal: faultsAt(corners.nominal),
    lowest: faultsAt(corners.lowest),
    highest: faultsAt(corners.highest),
  };
  const [good, low, high] = CORNERS.map((corner) => corners[corner].ohms) as [number, number, number];
  const faults = network.resistors.flatMap(({ name }, index) =>
    (['open', 'short'] as const).map((kind): Fault => {
      const [ohms, lowest, highest] = CORNERS.map((corner) => at[corner][kind][index] as number) as [
        number,
        number,
        number,
      ];
      const shows = isSame(ohms, good) ? 'never' : highest < low || lowest > high ? 'always' : 'not always';
      return { name, kind, ohms, lowest, highest, shows, alike: null };
    }),
  );
  return numbered(faults);
}

function faultsAt(corner: Corner): Record<FaultKind, Float64Array> {
  const { nodes, branches, ohms, drop } = corner;
  const bridges = bridgesOf(nodes, branches);
  const [open, short] = [new Float64Array(branches.length), new Float64Array(branches.length)];
  for (const [index, branch] of branches.entries()) {
    if (branch.ohms === 0 || ohms === Number.POSITIVE_INFINITY) {
      open[index] = branch.ohms === 0 ? anew(corner, index, Number.POSITIVE_INFINITY) : ohms;
      short[index] = ohms;
      continue;
    }
    const volts = drop[index] as number;
    const r = across(corner, index);
    // Wires join its ends, so it does nothing at all.
    if (r === 0) {
      open[index] = ohms;
      short[index] = ohms;
      continue;
    }
    const left = 1 - r / branch.ohms;
    if (bridges[index]) open[index] = isCarrying(corner, index) ? Number.POSITIVE_INFINITY : ohms;
    else
      open[index] =
        left < LOST ? anew(corner, index, Number.POSITIVE_INFINITY) : ohms + (volts * volts) / branch.ohms / left;
    const rest = ohms - (volts * volts) / r;
    short[index] = rest < LOST * ohms ? anew(corner, index, 0) : rest;
  }
  return { open, short };
}

/** Whether all the current from terminal to terminal goes through a bridge: it carries all or nothing. */
function isCarrying({ branches, drop }: Corner, index: number): boolean {
  return Math.abs((drop[index] as number) / (branches[index]?.ohms ?? 1)) > 0.5;
}

function isSame(a: number, b: number): boolean {
  // All differences from infinity are infinite.
  return a === b || (Number.isFinite(a - b) && Math.abs(a - b) <= SAME * Math.max(a, b));
}

/** Gives those that read the same the same number. */
function numbered(faults: readonly Fault[]): Fault[] {
  const order = faults.map((_, index) => index).sort((a, b) => compare(faults[a] as Fault, faults[b] as Fault));
  const alike = new Map<number, number>();
  let groups = 0;
  for (let begin = 0; begin < order.length; ) {
    let end = begin + 1;
    const ohmsAt = (place: number) => faults[order[place] as number]?.ohms ?? 0;
    while (end < order.length && isSame(ohmsAt(end - 1), ohmsAt(end))) end++;
    if (end - begin > 1) {
      groups++;
      for (let place = begin; place < end; place++) alike.set(order[place] as number, groups);
    }
    begin = end;
  }
  return faults.map((fault, index) => ({ ...fault, alike: alike.get(index) ?? null }));
}

function compare(a: Fault, b: Fault): number {
  return a.ohms === b.ohms ? 0 : a.ohms - b.ohms;
}
