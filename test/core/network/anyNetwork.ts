import fc from 'fast-check';
import type { Network } from '../../../core/network/network.ts';

/** Resistors with tolerances between some of so many nodes, which are called 0, 1, 2 …; over four decades. */
export function anyNetwork(mostNodes: number, mostResistors: number): fc.Arbitrary<Network> {
  return fc.integer({ min: 2, max: mostNodes }).chain((nodes) =>
    fc
      .array(
        fc.record({
          from: fc.nat(nodes - 1),
          skip: fc.nat(nodes - 2),
          ohms: fc.integer({ min: 1, max: 10_000 }),
          percent: fc.constantFrom('0.1', '1', '5', '20'),
        }),
        { minLength: nodes - 1, maxLength: mostResistors },
      )
      .map((all) => ({
        resistors: all.map(({ from, skip, ohms, percent }, index) => ({
          name: `R${index + 1}`,
          from: String(from),
          to: String((from + 1 + skip) % nodes),
          ohms: String(ohms),
          tolerance: { kind: 'percent' as const, plus: percent, minus: percent },
        })),
        sources: [],
        between: null,
      }))
      .filter(({ resistors }) =>
        ['0', '1'].every((node) => resistors.some(({ from, to }) => from === node || to === node)),
      ),
  );
}
