import { problem } from '../problem/problem.ts';
import { type Corner, type CornerName, cornersOf } from './corner.ts';
import { type Expected, expectedOf } from './expected.ts';
import { type Fault, faultsOf } from './faults.ts';
import { type InCircuit, inCircuitOf } from './inCircuit.ts';
import { type Network, nodesOf, type Terminals } from './network.ts';
import { type SourcesLeft, sourcesLeftOf } from './sourcesLeft.ts';

/** All that is known of a network between two terminals before anything is measured. */
export interface NetworkAnalysis {
  terminals: Terminals;
  nodes: string[];
  expected: Expected;
  faults: Fault[];
  inCircuit: InCircuit[];
  /** Null where the network has no source. */
  sourcesLeft: SourcesLeft | null;
  corners: Record<CornerName, Corner>;
}

/** @throws problem network-node-unknown */
export function analyseNetwork(network: Network, terminals: Terminals): NetworkAnalysis {
  const nodes = nodesOf(network);
  const unknown = terminals.find((node) => !nodes.includes(node));
  if (unknown !== undefined) throw problem('network-node-unknown', unknown);
  const corners = cornersOf(network, terminals);
  return {
    terminals,
    nodes,
    expected: expectedOf(network, corners),
    faults: faultsOf(network, corners),
    inCircuit: inCircuitOf(network, corners),
    sourcesLeft: sourcesLeftOf(network, corners.nominal),
    corners,
  };
}
