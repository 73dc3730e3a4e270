import type { Corner } from './corner.ts';
import { withSources } from './inCircuit.ts';
import type { Network } from './network.ts';

/** What sources do that were left connected. */
export interface SourcesLeft {
  names: string[];
  /** Between the terminals with the internal resistance of every source in place, in ohms: what is read when none gives a voltage. */
  ohms: number;
  /** Volts that stand at the terminals while the sources are on. A meter on resistance then shows nonsense, and may be damaged. */
  volts: number;
}

/** Null where the network has no source. Each is a current V/R beside its internal resistance (Norton); their effects add. */
export function sourcesLeftOf(network: Network, nominal: Corner): SourcesLeft | null {
  const { sources, resistors } = network;
  if (sources.length === 0) return null;
  const { circuit, branches, ohms, terminals } = withSources(network, nominal);
  const [first, second] = terminals;
  let volts = 0;
  for (const [index, source] of sources.entries()) {
    const branch = branches[resistors.length + index];
    if (branch === undefined || !circuit.isConnected(first, second)) continue;
    const driven = circuit.volts(branch.from, branch.to);
    volts += ((driven[first] as number) - (driven[second] as number)) * (Number(source.volts) / branch.ohms);
  }
  return { names: sources.map(({ name }) => name), ohms, volts };
}
