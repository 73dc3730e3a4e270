import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Circuit } from '../../../core/network/circuit.ts';
import { cornersOf } from '../../../core/network/corner.ts';
import { expectedOf } from '../../../core/network/expected.ts';
import type { Network, Terminals } from '../../../core/network/network.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { anyNetwork } from './anyNetwork.ts';

const expectedIn = (network: Network, terminals: Terminals = network.between ?? ['A', 'B']) =>
  expectedOf(network, cornersOf(network, terminals));

describe('what a network is expected to read', () => {
  it('of two in series, by hand: 10 kΩ ± 1 % and 4.7 kΩ ± 5 %', () => {
    const found = expectedIn(readNetwork('10k 1% + 4k7 5%'));
    expect(found).toMatchObject({ isWithoutTolerance: false });
    expect(found.nominal).toBeCloseTo(14_700, 9);
    expect(found.lowest).toBeCloseTo(9900 + 4465, 9);
    expect(found.highest).toBeCloseTo(10_100 + 4935, 9);
    // √(100² + 235²)
    expect(found.likelyHighest - found.nominal).toBeCloseTo(Math.hypot(100, 235), 9);
    expect(found.sensitivities).toMatchObject([
      { name: 'R1', perOhm: 1, spreadOhms: 100 },
      { name: 'R2', perOhm: 1, spreadOhms: 235 },
    ]);
    expect(found.sensitivities[0]?.perPercent).toBeCloseTo(10 / 14.7, 12);
  });

  it('of two in parallel, by hand: the current divides', () => {
    const found = expectedIn(readNetwork('1k 1% || 3k 1%'));
    expect(found.nominal).toBeCloseTo(750, 9);
    expect(found.lowest).toBeCloseTo(742.5, 9);
    expect(found.highest).toBeCloseTo(757.5, 9);
    expect(found.sensitivities.map(({ perOhm }) => perOhm)).toEqual([
      expect.closeTo(9 / 16, 12),
      expect.closeTo(1 / 16, 12),
    ]);
  });

  it('changes with each resistor as it is said to (property, against a difference)', () => {
    fc.assert(
      fc.property(anyNetwork(6, 10), (network) => {
        const corners = cornersOf(network, ['0', '1']);
        const { nodes, branches, terminals, ohms } = corners.nominal;
        fc.pre(Number.isFinite(ohms));
        const { sensitivities } = expectedOf(network, corners);
        let sum = 0;
        for (const [index, branch] of branches.entries()) {
          const step = branch.ohms * 1e-4;
          const at = (ohms: number) => new Circuit(nodes, branches.with(index, { ...branch, ohms }), terminals).ohms;
          const slope = (at(branch.ohms + step) - at(branch.ohms - step)) / (2 * step);
          const said = sensitivities.find(({ name }) => name === network.resistors[index]?.name);
          expect(Math.abs((said?.perOhm ?? 0) - slope)).toBeLessThan(1e-6);
          sum += said?.perPercent ?? 0;
        }
        // All of them a per cent higher make the whole a per cent higher.
        expect(sum).toBeCloseTo(1, 9);
      }),
    );
  });

  it('lies, worst case, where the worst of all corners lies (property, by brute force up to 12 resistors)', () => {
    fc.assert(
      fc.property(anyNetwork(6, 12), (network) => {
        const corners = cornersOf(network, ['0', '1']);
        fc.pre(Number.isFinite(corners.nominal.ohms));
        const { lowest, highest } = expectedOf(network, corners);
        const { nodes, terminals } = corners.nominal;
        let [least, most] = [Number.POSITIVE_INFINITY, 0];
        for (let corner = 0; corner < 2 ** network.resistors.length; corner++) {
          const branches = corners.lowest.branches.map((low, index) =>
            (corner >> index) & 1 ? (corners.highest.branches[index] ?? low) : low,
          );
          const { ohms } = new Circuit(nodes, branches, terminals);
          least = Math.min(least, ohms);
          most = Math.max(most, ohms);
        }
        expect(lowest / least).toBeCloseTo(1, 12);
        expect(highest / most).toBeCloseTo(1, 12);
      }),
      { numRuns: 25 },
    );
  });

  it('says that a resistor has no tolerance, and takes it as it is', () => {
    const found = expectedIn(readNetwork('10k + 4k7 5%'));
    expect(found.isWithoutTolerance).toBe(true);
    expect(found.highest - found.nominal).toBeCloseTo(235, 9);
  });

  it('of a wire that may have a little: what it carries is told by the wires beside', () => {
    const found = expectedIn(readNetwork('R1 in a 1k 1%\nRj a out 0R 50 mohm\nbetween in out'));
    expect([found.nominal, found.lowest]).toEqual([1000, 990]);
    expect(found.highest).toBeCloseTo(1010.05, 9);
    expect(found.sensitivities.find(({ name }) => name === 'Rj')?.perOhm).toBe(1);
    const bridged = expectedIn(
      readNetwork('R1 in a 1k\nR2 in b 3k\nRj a b 0\nR3 a out 1k\nR4 b out 1k\nbetween in out'),
    );
    // 0.75 A come to one side and 0.25 A to the other, 0.5 A go on from each.
    expect(bridged.sensitivities.find(({ name }) => name === 'Rj')?.perOhm).toBeCloseTo(1 / 16, 12);
  });

  it('is open where nothing leads', () => {
    expect(expectedIn(readNetwork('R1 a b 1k 1%\nR2 c d 1k 1%\nbetween a d'))).toMatchObject({
      nominal: Number.POSITIVE_INFINITY,
      lowest: Number.POSITIVE_INFINITY,
      sensitivities: [{ perOhm: 0, perPercent: 0 }, { perOhm: 0 }],
    });
  });
});
