import Big from 'big.js';
import { windowOf } from '../window/window.ts';
import { type Branch, Circuit, numbersOf, terminalNumbers } from './circuit.ts';
import { type Network, nodesOf, type Resistor, type Terminals } from './network.ts';

/** All resistors at their nominal values, at the lowest that their tolerances allow, at the highest. */
export const CORNERS = ['nominal', 'lowest', 'highest'] as const;
export type CornerName = (typeof CORNERS)[number];

/** A network with its values, ready to be asked between its terminals. */
export interface Corner {
  nodes: number;
  branches: readonly Branch[];
  terminals: readonly [number, number];
  circuit: Circuit;
  /** Between the terminals, in ohms. */
  ohms: number;
  /** Of each resistor: the volts across it while 1 A goes from terminal to terminal. */
  drop: Float64Array;
}

/** The network at each of its corners. Nothing is asked between terminals that nothing joins: all drops are 0 then. */
export function cornersOf(network: Network, terminals: Terminals): Record<CornerName, Corner> {
  const numbers = numbersOf(nodesOf(network));
  const at = (corner: CornerName) => {
    const branches = network.resistors.map((resistor) => ({
      from: numbers.get(resistor.from) ?? 0,
      to: numbers.get(resistor.to) ?? 0,
      ohms: ohmsAt(resistor, corner),
    }));
    return cornerOf(numbers.size, branches, terminalNumbers(numbers, terminals));
  };
  return { nominal: at('nominal'), lowest: at('lowest'), highest: at('highest') };
}

export function cornerOf(nodes: number, branches: readonly Branch[], terminals: readonly [number, number]): Corner {
  const circuit = new Circuit(nodes, branches, terminals);
  const { ohms } = circuit;
  const drop = new Float64Array(branches.length);
  if (ohms !== Number.POSITIVE_INFINITY) {
    const volts = circuit.volts(...terminals);
    for (const [index, { from, to }] of branches.entries()) drop[index] = difference(volts, from, to);
  }
  return { nodes, branches, terminals, circuit, ohms, drop };
}

/** The resistance between the ends of a branch as it lies in its circuit, itself included; in ohms. */
export function across({ circuit, branches }: Corner, index: number): number {
  const { from, to } = branches[index] as Branch;
  return difference(circuit.volts(from, to), from, to);
}

/** Between the terminals, one branch having another value: 0 of a short, infinity of an open; worked out anew. */
export function anew({ nodes, branches, terminals }: Corner, index: number, ohms: number): number {
  return new Circuit(nodes, branches.with(index, { ...(branches[index] as Branch), ohms }), terminals).ohms;
}

function difference(volts: Float64Array, from: number, to: number): number {
  return (volts[from] as number) - (volts[to] as number);
}

/** What a resistor may be at a corner, in ohms; where no tolerance says so, its nominal value. */
function ohmsAt({ ohms, tolerance }: Resistor, corner: CornerName): number {
  if (corner === 'nominal' || tolerance === null) return Number(ohms);
  const { lower, upper } = windowOf(new Big(ohms), tolerance);
  return corner === 'lowest' ? Math.max(0, Number(lower ?? ohms)) : Number(upper ?? ohms);
}

/** What a branch of 0 Ω carries while 1 A goes from terminal to terminal; of several beside each other nothing can be said: 0. */
export function wireCurrent({ nodes, branches, terminals, ohms }: Corner, index: number): number {
  const { from, to } = branches[index] as Branch;
  const without = new Circuit(nodes, branches.with(index, { from, to, ohms: Number.POSITIVE_INFINITY }), terminals);
  if (ohms === Number.POSITIVE_INFINITY || without.isJoined(from, to)) return 0;
  if (!without.isConnected(from, to)) return without.ohms === Number.POSITIVE_INFINITY ? 1 : 0;
  const driven = difference(without.volts(...terminals), from, to);
  return driven / difference(without.volts(from, to), from, to);
}
