import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anew, cornersOf } from '../../../core/network/corner.ts';
import { inCircuitOf } from '../../../core/network/inCircuit.ts';
import { analyseNetwork } from '../../../core/network/networkAnalysis.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { anyNetwork } from './anyNetwork.ts';

const inCircuit = (text: string) => {
  const network = readNetwork(text);
  return inCircuitOf(network, cornersOf(network, network.between ?? ['a', 'b']));
};

describe('a resistor read in its circuit', () => {
  it('reads less by what lies beside it, by hand: 10 kΩ beside 4.7 kΩ and 3.3 kΩ', () => {
    const [first, second] = inCircuit('R1 a b 10k 1%\nR2 b c 4k7 1%\nR3 c a 3k3 1%');
    expect(first).toMatchObject({ name: 'R1', own: 10_000, beside: expect.closeTo(8000, 6), withSources: null });
    expect(first?.ohms).toBeCloseTo(80_000 / 18, 8);
    expect(first?.changePercent).toBeCloseTo((8 / 18 - 1) * 100, 8);
    expect(first?.lowest).toBeCloseTo((0.99 * 80_000) / 18, 8);
    expect(first?.highest).toBeCloseTo((1.01 * 80_000) / 18, 8);
    expect(second?.beside).toBeCloseTo(13_300, 6);
  });

  it('reads its own value where nothing lies beside it, and no end is to be lifted', () => {
    expect(inCircuit('R1 a b 1k\nR2 b c 2k\nbetween a c')).toMatchObject([
      {
        ohms: expect.closeTo(1000, 9),
        changePercent: expect.closeTo(0, 9),
        beside: Number.POSITIVE_INFINITY,
        lift: null,
      },
      { lift: null },
    ]);
  });

  it('is lifted at the end where fewer others are', () => {
    const lifts = inCircuit('R1 hub x 1k\nR2 hub x 1k\nR3 hub y 1k\nR4 y hub 1k\nR5 hub z 1k\nR6 z x 1k').map(
      ({ lift }) => lift,
    );
    expect(lifts).toEqual(['x', 'x', 'y', 'y', 'z', 'z']);
  });

  it('is that with a source left connected, by its internal resistance', () => {
    const network = readNetwork('R1 in out 1k 1%\nR2 out 0 1k 1%\nV1 in 0 12V 1\nbetween out 0');
    const { inCircuit: read, sourcesLeft } = analyseNetwork(network, ['out', '0']);
    expect(read.map(({ ohms }) => ohms)).toEqual([expect.closeTo(1000, 9), expect.closeTo(1000, 9)]);
    expect(read[1]?.withSources).toBeCloseTo((1000 * 1001) / 2001, 9);
    // 12 V divide over 1 Ω, 1 kΩ and 1 kΩ.
    expect(sourcesLeft).toMatchObject({ names: ['V1'], volts: expect.closeTo((12 * 1000) / 2001, 9) });
    expect(sourcesLeft?.ohms).toBeCloseTo((1000 * 1001) / 2001, 9);
  });

  it('gives the fractions of an R-2R ladder: codes 1, 2, 4, 8, 10, 15 of 16', () => {
    for (const code of [1, 2, 4, 8, 10, 15]) {
      const bits = [1, 2, 4, 8].map((bit, place) => `V${place} s${place} g ${code & bit ? 10 : 0}V 1m`).join('\n');
      const text = `R1 g n0 20k\nR2 s0 n0 20k\nR3 n0 n1 10k\nR4 s1 n1 20k\nR5 n1 n2 10k\nR6 s2 n2 20k\nR7 n2 n3 10k\nR8 s3 n3 20k\n${bits}`;
      const { sourcesLeft } = analyseNetwork(readNetwork(text), ['n3', 'g']);
      expect(sourcesLeft?.volts).toBeCloseTo((10 * code) / 16, 5);
      expect(sourcesLeft?.ohms).toBeCloseTo(10_000, 2);
    }
  });

  it('is what is beside it together with its own value (property)', () => {
    fc.assert(
      fc.property(anyNetwork(6, 10), (network) => {
        const corners = cornersOf(network, ['0', '1']);
        for (const [index, { ohms, own, beside, from, to }] of inCircuitOf(network, corners).entries()) {
          expect(ohms).toBeLessThanOrEqual(own * (1 + 1e-12));
          const there = cornersOf(network, [from, to]).nominal;
          expect(there.ohms / ohms).toBeCloseTo(1, 9);
          const without = anew(there, index, Number.POSITIVE_INFINITY);
          if (without < 1e6 * own) expect(beside / without).toBeCloseTo(1, 5);
        }
      }),
      { numRuns: 50 },
    );
  });

  it('is asked between nodes that are there', () => {
    expect(() => analyseNetwork(readNetwork('10k'), ['A', 'Z'])).toThrowError(
      expect.objectContaining({ code: 'network-node-unknown' }),
    );
  });
});
