import type { Point } from '../../core/continuity/point.ts';
import { uniformAt } from '../../instruments/bench/random.ts';
import type { BenchScenarioInput } from '../../instruments/bench/scenario.ts';
import type { WiringInput } from '../../instruments/bench/wiring.ts';
import { readAddress } from '../../instruments/transport/address.ts';

const [OHMS_KEY, HOW_MANY_KEY, KIND_KEY, PLACE_KEY] = [61, 62, 63, 64];
const MOST_FAULTS = 2;
const KINDS = ['broken', 'resistive', 'swapped', 'crossed'] as const;
type Fault = NonNullable<WiringInput['faults']>[number];

/**
 * What is wired on the simulated bench when a continuity run is practised on it: what the list says, with no fault, one or two. All of it
 * is invented, and follows from the seed: the one in the address, else the run's number.
 */
export function benchForWiring(number: number, points: readonly Point[], address: string): BenchScenarioInput {
  const wanted = readAddress(address);
  const seed = (wanted.kind === 'sim' ? wanted.seed : null) ?? number;
  const closed = points.filter(({ expected }) => expected === 'closed');
  const wires = closed.map(({ from, to, state }, index) => ({
    from,
    to,
    state,
    ohms: 0.02 + 0.15 * uniformAt(seed, OHMS_KEY, index),
  }));
  const terminals = [...new Set(points.flatMap(({ from, to }) => [from, to]))];
  return { seed, wiring: { wires, faults: faultsOf(seed, wires.length, terminals) }, hands: { piecesPerSecond: 2 } };
}

function faultsOf(seed: number, wires: number, terminals: readonly string[]): Fault[] {
  const howMany = Math.floor(uniformAt(seed, HOW_MANY_KEY) * (MOST_FAULTS + 1));
  return Array.from({ length: howMany }, (_, index): Fault[] => {
    const kind = KINDS[Math.floor(uniformAt(seed, KIND_KEY, index) * KINDS.length)] ?? 'broken';
    const pick = (of: number, draw: number) => Math.floor(uniformAt(seed, PLACE_KEY, index, draw) * of);
    if (kind === 'crossed') {
      const [from, to] = [terminals[pick(terminals.length, 1)], terminals[pick(terminals.length, 2)]];
      return from !== undefined && to !== undefined && from !== to ? [{ kind, from, to }] : [];
    }
    if (wires === 0) return [];
    const wire = 1 + pick(wires, 1);
    if (kind === 'resistive') return [{ kind, wire, ohms: 10 }];
    if (kind === 'broken') return [{ kind, wire }];
    const other = 1 + pick(wires, 2);
    return other === wire ? [] : [{ kind, wires: [wire, other] }];
  }).flat();
}
