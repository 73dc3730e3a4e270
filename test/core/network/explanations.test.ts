import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Circuit } from '../../../core/network/circuit.ts';
import { explanationsOf, impliedOhms } from '../../../core/network/explanations.ts';
import type { Terminals } from '../../../core/network/network.ts';
import { analyseNetwork } from '../../../core/network/networkAnalysis.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { anyNetwork } from './anyNetwork.ts';

function explained(text: string, ohms: number, expandedOhms = 0, terminals?: Terminals): string[] {
  const network = readNetwork(text);
  const analysis = analyseNetwork(network, terminals ?? network.between ?? ['a', 'b']);
  return explanationsOf(network, analysis, { ohms, expandedOhms }).map(({ what, name, is }) =>
    [name, what, is].filter((word) => word !== null).join(' '),
  );
}

const DIVIDER = 'R1 in out 10k 1%\nR2 out 0 4k7 1%\nR3 out 0 100k 5%\nbetween in 0';

describe('what explains a reading of a network', () => {
  it('is that nothing is wrong, where it lies in the window', () => {
    // 10 kΩ and 4.7 kΩ beside 100 kΩ: 14 489 Ω.
    expect(explained(DIVIDER, 14_490)[0]).toBe('good');
  });

  it('is the open or short whose own reading is nearest', () => {
    expect(explained(DIVIDER, Number.POSITIVE_INFINITY)).toEqual(['R1 open']);
    expect(explained(DIVIDER, 10_005).slice(0, 2)).toEqual(['R2 short', 'R3 short']);
    expect(explained(DIVIDER, 110_000)[0]).toBe('R2 open');
    expect(explained(DIVIDER, 4_489)).toContain('R1 short');
  });

  it('is another preferred value, one off by a decade first', () => {
    // 1 kΩ in place of 10 kΩ: 5 489 Ω.
    expect(explained(DIVIDER, 5_489)[0]).toBe('R1 other value 1000');
    expect(explained('R1 a b 1k 1%\nR2 b c 1k 1%\nbetween a c', 2_500)).toEqual([
      'R1 other value 1500',
      'R2 other value 1500',
    ]);
  });

  it('is a source left connected, as far as it gives no voltage', () => {
    expect(explained('R1 in out 1k 1%\nR2 out 0 1k 1%\nV1 in 0 5V 0.1\nbetween out 0', 500)).toContain('sources');
  });

  it('takes the uncertainty of the reading into account', () => {
    expect(explained('10k 1%', 10_150)).not.toContain('good');
    expect(explained('10k 1%', 10_150, 60)[0]).toBe('good');
  });

  it('has a reading on a limit inside, and faults that read the same in the order of the description', () => {
    expect(explained('3k3 1% || 4k7 1%', 1919.3625, 0, ['A', 'B'])[0]).toBe('good');
    const bridge = 'R1 a b 1k 1%\nR2 a c 1k 1%\nR3 b d 1k 1%\nR4 c d 1k 1%\nR5 b c 330 1%\nbetween a d';
    expect(explained(bridge, 1571).slice(0, 4)).toEqual(['R1 open', 'R2 open', 'R3 open', 'R4 open']);
  });

  it('is nothing single, where nothing single gives it', () => {
    expect(explained('R1 a b 1k 1%\nR2 b c 1k 1%\nbetween a c', 1e-3)).toEqual([]);
  });

  it('names the fault that was made, always (property)', () => {
    fc.assert(
      fc.property(
        anyNetwork(5, 8),
        fc.nat(),
        fc.constantFrom('open' as const, 'short' as const),
        (network, at, kind) => {
          const analysis = analyseNetwork(network, ['0', '1']);
          const index = at % network.resistors.length;
          const { nodes, branches, terminals } = analysis.corners.nominal;
          const branch = branches[index] as { from: number; to: number };
          const broken = branches.with(index, { ...branch, ohms: kind === 'open' ? Number.POSITIVE_INFINITY : 0 });
          const measured = { ohms: new Circuit(nodes, broken, terminals).ohms, expandedOhms: 1e-6 };
          const found = explanationsOf(network, analysis, measured);
          const said = found.some(({ what, name }) => what === kind && name === network.resistors[index]?.name);
          const { shows } =
            analysis.faults.find((fault) => fault.name === network.resistors[index]?.name && fault.kind === kind) ?? {};
          expect(shows === 'never' ? found[0]?.what === 'good' : said).toBe(true);
        },
      ),
    );
  });

  it('implies the value that one resistor would have (property)', () => {
    fc.assert(
      fc.property(anyNetwork(5, 8), fc.nat(), fc.double({ min: 0.01, max: 100, noNaN: true }), (network, at, times) => {
        const { nominal } = analyseNetwork(network, ['0', '1']).corners;
        fc.pre(Number.isFinite(nominal.ohms));
        const index = at % network.resistors.length;
        const branch = nominal.branches[index] as { from: number; to: number; ohms: number };
        // A tenth of the current at least, so that the reading tells.
        fc.pre(Math.abs((nominal.drop[index] ?? 0) / branch.ohms) > 0.1);
        const ohms = branch.ohms * times;
        const measured = new Circuit(
          nominal.nodes,
          nominal.branches.with(index, { ...branch, ohms }),
          nominal.terminals,
        ).ohms;
        expect((impliedOhms(nominal, index, measured) ?? 0) / ohms).toBeCloseTo(1, 5);
      }),
    );
  });
});
