import type { DecimalText } from '../quantity/decimal.ts';
import type { Tolerance } from '../window/window.ts';

/** A resistor between two nodes. */
export interface Resistor {
  name: string;
  from: string;
  to: string;
  ohms: DecimalText;
  /** Null where none was given: then its value is taken as it is. */
  tolerance: Tolerance | null;
}

/** A source that may be left connected, by its internal resistance. */
export interface Source {
  name: string;
  /** The positive end. */
  from: string;
  to: string;
  volts: DecimalText;
  ohms: DecimalText;
}

/** Two nodes that are measured between. */
export type Terminals = readonly [from: string, to: string];

/** Resistors and what hangs on them, joined at nodes that are known by their names. */
export interface Network {
  resistors: readonly Resistor[];
  sources: readonly Source[];
  /** Where it is measured; null where the description does not say. */
  between: Terminals | null;
}

/** Where it is measured: as the description says, or else from its first node to its last. */
export function usualTerminals(network: Network): Terminals {
  const nodes = nodesOf(network);
  return network.between ?? [nodes[0] ?? '', nodes.at(-1) ?? ''];
}

/** The names of all nodes, in the order they are first named. */
export function nodesOf({ resistors, sources }: Pick<Network, 'resistors' | 'sources'>): string[] {
  return [...new Set([...resistors, ...sources].flatMap(({ from, to }) => [from, to]))];
}
