import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bridgesOf } from '../../../core/network/bridges.ts';
import { anew, CORNERS, cornersOf } from '../../../core/network/corner.ts';
import { type Fault, faultsOf } from '../../../core/network/faults.ts';
import type { Network, Terminals } from '../../../core/network/network.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { anyNetwork } from './anyNetwork.ts';
import { ladder } from './shapes.ts';

const faultsIn = (network: Network, terminals: Terminals = network.between ?? ['A', 'B']) =>
  faultsOf(network, cornersOf(network, terminals));
const OPEN = Number.POSITIVE_INFINITY;

/** Each fault with every corner worked out anew, from nothing. */
function mustBeAsAnew(network: Network, terminals: Terminals): void {
  const corners = cornersOf(network, terminals);
  for (const [place, fault] of faultsOf(network, corners).entries()) {
    const index = place >> 1;
    for (const corner of CORNERS) {
      const found = { nominal: fault.ohms, lowest: fault.lowest, highest: fault.highest }[corner];
      const wanted = anew(corners[corner], index, fault.kind === 'open' ? OPEN : 0);
      const where = `${fault.name} ${fault.kind}, ${corner}: ${found} for ${wanted}`;
      if (wanted === OPEN || wanted === 0) expect(found, where).toBe(wanted);
      else expect(Math.abs(found / wanted - 1), where).toBeLessThan(1e-9);
    }
  }
}

describe('every single fault', () => {
  it('of a string is an open, or the string less one', () => {
    const faults = faultsIn(readNetwork('1k 1% + 2k 1% + 3k 1%'));
    expect(faults.map(({ kind, ohms }) => [kind, ohms])).toEqual([
      ['open', OPEN],
      ['short', expect.closeTo(5000, 8)],
      ['open', OPEN],
      ['short', expect.closeTo(4000, 8)],
      ['open', OPEN],
      ['short', expect.closeTo(3000, 8)],
    ]);
    // An open anywhere reads the same.
    expect(faults.filter(({ kind }) => kind === 'open').map(({ alike }) => alike)).toEqual([1, 1, 1]);
    expect(faults.every(({ shows }) => shows === 'always')).toBe(true);
  });

  it('of a bank is a short, or the bank without one', () => {
    const faults = faultsIn(readNetwork('1k 20% || 1k 20% || 1M 1%'));
    const found = (name: string, kind: string) => faults.find((one) => one.name === name && one.kind === kind) as Fault;
    expect(found('R1', 'short').ohms).toBe(0);
    expect(found('R1', 'open').ohms).toBeCloseTo(1e9 / 1001000, 6);
    expect(found('R1', 'open').alike).toBe(found('R2', 'open').alike);
    // One in a thousand of what tolerances of 20 % allow.
    expect(found('R3', 'open').shows).toBe('not always');
  });

  it('of a balanced bridge: what lies across it cannot be seen from its terminals', () => {
    const faults = faultsIn(readNetwork('R1 a b 10 1%\nR2 b d 20 1%\nR3 a c 30 1%\nR4 c d 60 1%\nR5 b c 123 1%'), [
      'a',
      'd',
    ]);
    expect(faults.filter(({ name }) => name === 'R5').map(({ shows }) => shows)).toEqual(['never', 'never']);
    expect(faults.filter(({ name, kind }) => name === 'R1' && kind === 'open').map(({ shows }) => shows)).toEqual([
      'always',
    ]);
  });

  it('of what hangs on a single lead changes nothing', () => {
    const faults = faultsIn(readNetwork('R1 a b 1k 1%\nR2 b c 1k 1%\nR3 d e 1k 1%\nR4 d e 1k 1%'), ['a', 'b']);
    expect(
      faults.filter(({ name }) => name !== 'R1').every(({ shows, ohms }) => shows === 'never' && ohms === 1000),
    ).toBe(true);
  });

  it('of wires, and between what nothing joins', () => {
    const faults = faultsIn(readNetwork('R1 a b 1k\nRj b c 0\nbetween a c'));
    expect(faults.map(({ ohms }) => ohms)).toEqual([OPEN, 0, OPEN, 1000]);
    expect(faultsIn(readNetwork('R1 a b 1k\nR2 c d 1k'), ['a', 'd']).map(({ ohms }) => ohms)).toEqual([
      OPEN,
      OPEN,
      OPEN,
      OPEN,
    ]);
  });

  it('of a resistor that a wire bridges is none', () => {
    const faults = faultsIn(readNetwork('1k 1% + 2k 1% || 0'));
    expect(faults.filter(({ name }) => name === 'R2').map(({ ohms, shows }) => [ohms, shows])).toEqual([
      [1000, 'never'],
      [1000, 'never'],
    ]);
    expect(faults.some(({ ohms, lowest, highest }) => Number.isNaN(ohms + lowest + highest))).toBe(false);
  });

  it('is as worked out anew (property)', () => {
    fc.assert(
      fc.property(anyNetwork(8, 16), (network) => mustBeAsAnew(network, ['0', '1'])),
      { numRuns: 150 },
    );
  });

  it('is as worked out anew where values lie far apart and an update would lose its digits', () => {
    mustBeAsAnew(readNetwork('R1 a b 1\nR2 a b 1G\nR3 b c 1m\nR4 a c 1T\nR5 c d 1k\nR6 b d 10G'), ['a', 'd']);
    mustBeAsAnew(readNetwork('R1 a b 1M\nR2 b c 1\nR3 a b 1T'), ['a', 'c']);
  });

  it('of a long ladder is as worked out anew, for some', () => {
    const network = ladder(400);
    const corners = cornersOf(network, ['1', '0']);
    const faults = faultsOf(network, corners);
    for (const index of [0, 1, 2, 7, 40, 399, 400, 798, 799]) {
      expect(faults[2 * index]?.ohms).toBeCloseTo(anew(corners.nominal, index, OPEN), 10);
      expect(faults[2 * index + 1]?.ohms).toBeCloseTo(anew(corners.nominal, index, 0), 10);
    }
  });
});

describe('bridges', () => {
  it('are the branches without which their ends fall apart (property)', () => {
    fc.assert(
      fc.property(anyNetwork(8, 14), (network) => {
        const { nodes, branches } = cornersOf(network, ['0', '1']).nominal;
        const found = bridgesOf(nodes, branches);
        for (const [index, { from, to }] of branches.entries()) {
          const reached = new Set([from]);
          for (let before = 0; before !== reached.size; ) {
            before = reached.size;
            for (const [other, branch] of branches.entries()) {
              if (other === index) continue;
              if (reached.has(branch.from)) reached.add(branch.to);
              if (reached.has(branch.to)) reached.add(branch.from);
            }
          }
          expect(found[index], `branch ${index}`).toBe(!reached.has(to));
        }
      }),
    );
  });
});
