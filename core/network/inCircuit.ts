import { numbersOf } from './circuit.ts';
import { across, type Corner, type CornerName, cornerOf } from './corner.ts';
import { type Network, nodesOf } from './network.ts';

/** What is read across one resistor while it stays in its circuit. In ohms. */
export interface InCircuit {
  name: string;
  from: string;
  to: string;
  /** Its own nominal value. */
  own: number;
  /** What a meter reads across it, all being good: never more than its own value. */
  ohms: number;
  /** Worst case of all tolerances. */
  lowest: number;
  highest: number;
  /** How far that is from its own value, in per cent of it; 0 or below. */
  changePercent: number;
  /** What lies beside it, in ohms; infinity where nothing does: it reads as if it were by itself. */
  beside: number;
  /** The end to lift so that it is measured by itself, the one with fewer others; null where nothing lies beside it. */
  lift: string | null;
  /** What is read with every source still connected, by its internal resistance alone; null where there is none. */
  withSources: number | null;
}

/** Each resistor as it is read in circuit. @param corners of the network between whatever terminals */
export function inCircuitOf(network: Network, corners: Record<CornerName, Corner>): InCircuit[] {
  const ends = new Map<string, number>();
  for (const { from, to } of network.resistors) {
    for (const node of [from, to]) ends.set(node, (ends.get(node) ?? 0) + 1);
  }
  const sourced = network.sources.length === 0 ? null : withSources(network, corners.nominal);
  return network.resistors.map(({ name, from, to }, index): InCircuit => {
    const own = corners.nominal.branches[index]?.ohms ?? 0;
    const ohms = across(corners.nominal, index);
    const beside = besideOf(own, ohms);
    const lift = (ends.get(from) ?? 0) <= (ends.get(to) ?? 0) ? from : to;
    return {
      name,
      from,
      to,
      own,
      ohms,
      lowest: across(corners.lowest, index),
      highest: across(corners.highest, index),
      changePercent: own === 0 ? 0 : (ohms / own - 1) * 100,
      beside,
      lift: beside === Number.POSITIVE_INFINITY ? null : lift,
      withSources: sourced && across(sourced, index),
    };
  });
}

/** A parallel path so far above a resistor that it takes nothing from it. */
const NOTHING = 1e-9;

function besideOf(own: number, ohms: number): number {
  const taken = own - ohms;
  return taken <= NOTHING * own ? Number.POSITIVE_INFINITY : (own * ohms) / taken;
}

/** The network with its sources, each by its internal resistance; they come behind the resistors. */
export function withSources({ resistors, sources }: Network, { branches, terminals }: Corner): Corner {
  const numbers = numbersOf(nodesOf({ resistors, sources }));
  const more = sources.map(({ from, to, ohms }) => ({
    from: numbers.get(from) ?? 0,
    to: numbers.get(to) ?? 0,
    ohms: Number(ohms),
  }));
  return cornerOf(numbers.size, [...branches, ...more], terminals);
}
