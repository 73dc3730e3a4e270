import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Branch, Circuit } from '../../../core/network/circuit.ts';
import { cornersOf } from '../../../core/network/corner.ts';
import type { Network } from '../../../core/network/network.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { denseResistance } from './denseSolve.ts';
import { alongEdges, CUBE, ladder } from './shapes.ts';

const between = (network: Network, from: string, to: string) => cornersOf(network, [from, to]).nominal.ohms;
/** Within 12 digits of an exact fraction. */
const isExactly = (found: number, numerator: number, denominator = 1) =>
  expect(Math.abs((found * denominator) / numerator - 1)).toBeLessThan(1e-12);

describe('resistance between two nodes', () => {
  // schoolphysics.co.uk, "Resistance networks": 5/6, 3/4 and 7/12 of the edge.
  it.each([
    ['body diagonal', '7', 5, 6],
    ['face diagonal', '3', 3, 4],
    ['edge', '1', 7, 12],
  ])('of a cube along its %s', (_, to, numerator, denominator) => {
    isExactly(between(alongEdges(CUBE), '0', to), numerator, denominator);
  });

  // By Foster (1949): over all edges of a network of unit resistors the resistances sum to the number of nodes less one, so
  // along an edge of a polyhedron it is (V - 1)/E.
  it.each([
    [
      'tetrahedron',
      [
        [0, 1],
        [0, 2],
        [0, 3],
        [1, 2],
        [1, 3],
        [2, 3],
      ],
      3,
      6,
    ],
    [
      'octahedron',
      [0, 1, 2, 3, 4, 5].flatMap((a) => [0, 1, 2, 3, 4, 5].filter((b) => b > a && a + b !== 5).map((b) => [a, b])),
      5,
      12,
    ],
  ] as const)('of a %s along its edge', (_, edges, numerator, denominator) => {
    isExactly(between(alongEdges(edges.map(([a, b]) => [a ?? 0, b ?? 0] as const)), '0', '1'), numerator, denominator);
  });

  // Finite ladders are quotients of Fibonacci numbers; exact, as computed by hand.
  it.each([
    [1, 2, 1],
    [2, 5, 3],
    [3, 13, 8],
    [4, 34, 21],
    [5, 89, 55],
    [6, 233, 144],
    [7, 610, 377],
    [8, 1597, 987],
  ])('of a ladder of %d sections', (sections, numerator, denominator) => {
    isExactly(between(ladder(sections), '1', '0'), numerator, denominator);
  });

  it('of a long ladder is the golden ratio (Mack, IEEE Brain-buster Gamebook, 3-17)', () => {
    expect(Math.abs(between(ladder(2000), '1', '0') - (1 + Math.sqrt(5)) / 2)).toBeLessThan(1e-14);
  });

  it('of a chain with r in both rails and in the rungs is (1 + √3) r (schoolphysics.co.uk, "Resistance networks")', () => {
    const edges = Array.from({ length: 60 }, (_, rung) => [
      [2 * rung, 2 * rung + 2],
      [2 * rung + 1, 2 * rung + 3],
      [2 * rung + 2, 2 * rung + 3],
    ]).flat() as [number, number][];
    expect(Math.abs(between(alongEdges(edges), '0', '1') - (1 + Math.sqrt(3)))).toBeLessThan(1e-14);
  });

  it.each([
    // sarthaks.com, a balanced bridge 30/15, 10/5 with 5 Ω in series.
    ['R1 a b 30\nR2 b d 15\nR3 a c 10\nR4 c d 5\nR5 b c 7\nR6 d e 5', 'a', 'e', 65, 4],
    // Lessons In Electric Circuits I, chapter 10: 102/7 Ω.
    ['R1 A B 12\nR2 A C 18\nR3 B C 6\nR4 B D 18\nR5 C D 12', 'A', 'D', 102, 7],
    // Exact: any bridge arm of a balanced bridge.
    ['R1 a b 10\nR2 b d 30\nR3 a c 20\nR4 c d 60\nR5 b c 123', 'a', 'd', 80, 3],
    ['R1 a b 10\nR2 b d 20\nR3 a c 30\nR4 c d 60\nR5 b c 123', 'a', 'd', 45, 2],
    // cdquestions.com and zanotowane.pl.
    ['16 || 8 || 8', 'A', 'B', 16, 5],
    ['((12 || 24) + (6 || 3)) || 10', 'A', 'B', 5, 1],
    ['10k || 4k7', 'A', 'B', 47_000_000, 14_700],
  ])('of %j between %s and %s', (text, from, to, numerator, denominator) => {
    isExactly(between(readNetwork(text), from, to), numerator, denominator);
  });

  it('of an R-2R ladder of 4 bits is R at its output, whatever ends it', () => {
    const text = 'R1 0 1 2k\nR2 1 g 2k\nR3 1 2 1k\nR4 2 g 2k\nR5 2 3 1k\nR6 3 g 2k\nR7 3 4 1k\nR8 4 g 2k\nR9 0 g 0';
    isExactly(between(readNetwork(text), '4', 'g'), 1000);
  });

  it('is infinite where nothing leads there, and nothing where wires do', () => {
    expect(between(readNetwork('R1 a b 1k\nR2 c d 1k'), 'a', 'd')).toBe(Number.POSITIVE_INFINITY);
    expect(between(readNetwork('R1 a b 0\nR2 b c 0\nR3 a c 1k'), 'a', 'c')).toBe(0);
    expect(between(readNetwork('R1 a b 1k'), 'a', 'a')).toBe(0);
    expect(between(readNetwork('R1 a b 0\nR2 b c 1k\nR3 a c 1k'), 'a', 'c')).toBe(500);
  });

  it('is that of a dense solve in whole fractions (property)', () => {
    fc.assert(
      fc.property(anyNetwork(), ({ nodes, branches }) => {
        const found = new Circuit(nodes, branches, [0, 1]).ohms;
        const wanted = denseResistance(branches, 0, 1);
        if (wanted === Number.POSITIVE_INFINITY) expect(found).toBe(wanted);
        else expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-12);
      }),
      { numRuns: 300 },
    );
  });

  it('keeps all its digits where values lie 18 decades apart', () => {
    // 1 µΩ between two rails of 1 TΩ to everything else: r = 1e-6 beside (2e12 + …), which takes nothing from it.
    const branches = [
      { from: 0, to: 1, ohms: 1e-6 },
      { from: 0, to: 2, ohms: 1e12 },
      { from: 1, to: 2, ohms: 1e12 },
      { from: 2, to: 3, ohms: 1e-3 },
    ];
    expect(new Circuit(4, branches, [0, 1]).ohms).toBeCloseTo(1e-6, 20);
    expect(new Circuit(4, branches, [0, 3]).ohms / (0.5e12 + 1e-3)).toBeCloseTo(1, 12);
  });

  it('is the same from both ends, and rises with every resistor (reciprocity, Rayleigh; property)', () => {
    fc.assert(
      fc.property(
        anyNetwork(),
        fc.nat(),
        fc.double({ min: 1, max: 100, noNaN: true }),
        ({ nodes, branches }, at, times) => {
          const ohms = new Circuit(nodes, branches, [0, 1]).ohms;
          const back = new Circuit(nodes, branches, [1, 0]).ohms;
          if (ohms === Number.POSITIVE_INFINITY) expect(back).toBe(ohms);
          else expect(Math.abs(back / ohms - 1)).toBeLessThan(1e-12);
          const index = at % branches.length;
          const branch = branches[index] as Branch;
          const more = new Circuit(nodes, branches.with(index, { ...branch, ohms: branch.ohms * times }), [0, 1]).ohms;
          expect(more).toBeGreaterThanOrEqual(ohms * (1 - 1e-12));
        },
      ),
    );
  });

  it('stays when a triangle is put in place of a star (Kennelly 1899; star of 20 Ω is a triangle of 60 Ω)', () => {
    const value = fc.double({ min: 0.1, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(value, value, value), fc.tuple(value, value, value), ([a, b, c], [x, y, z]) => {
        const rest: Branch[] = [
          { from: 0, to: 3, ohms: x },
          { from: 1, to: 4, ohms: y },
          { from: 2, to: 4, ohms: z },
        ];
        const sum = a * b + b * c + c * a;
        const star = [
          { from: 0, to: 5, ohms: a },
          { from: 1, to: 5, ohms: b },
          { from: 2, to: 5, ohms: c },
        ];
        const triangle = [
          { from: 0, to: 1, ohms: sum / c },
          { from: 1, to: 2, ohms: sum / a },
          { from: 2, to: 0, ohms: sum / b },
        ];
        const one = new Circuit(6, [...rest, ...star], [3, 4]).ohms;
        const other = new Circuit(5, [...rest, ...triangle], [3, 4]).ohms;
        expect(Math.abs(one / other - 1)).toBeLessThan(1e-12);
      }),
    );
    isExactly(between(readNetwork('R1 a m 20\nR2 b m 20\nR3 c m 20'), 'a', 'b'), 40);
    isExactly(between(readNetwork('R1 a b 60\nR2 b c 60\nR3 c a 60'), 'a', 'b'), 40);
  });
});

describe('volts while 1 A goes through', () => {
  it('are those of the bridge in Lessons In Electric Circuits I, chapter 10: B 5.294 V, C 4.706 V at 10 V', () => {
    const { circuit, ohms, terminals } = cornersOf(
      readNetwork('R1 A B 12\nR2 A C 18\nR3 B C 6\nR4 B D 18\nR5 C D 12'),
      ['A', 'D'],
    ).nominal;
    const volts = circuit.volts(...terminals);
    expect((10 / ohms) * (volts[1] as number)).toBeCloseTo(5.294, 3);
    expect((10 / ohms) * (volts[2] as number)).toBeCloseTo(4.706, 3);
  });

  it('follow the current into every node (property)', () => {
    fc.assert(
      fc.property(anyNetwork(), fc.nat(), fc.nat(), ({ nodes, branches }, a, b) => {
        const circuit = new Circuit(nodes, branches, [0, 1]);
        const [into, outOf] = [a % nodes, b % nodes];
        fc.pre(circuit.isConnected(into, outOf) && into !== outOf);
        const volts = circuit.volts(into, outOf);
        const amperes = new Float64Array(nodes);
        let largest = 1;
        for (const { from, to, ohms } of branches) {
          const ampere = ((volts[from] as number) - (volts[to] as number)) / ohms;
          amperes[from] = (amperes[from] as number) + ampere;
          amperes[to] = (amperes[to] as number) - ampere;
          largest = Math.max(largest, Math.abs(volts[from] as number) / ohms);
        }
        for (let node = 0; node < nodes; node++) {
          const wanted = node === into ? 1 : node === outOf ? -1 : 0;
          expect(Math.abs((amperes[node] as number) - wanted)).toBeLessThan(1e-11 * largest);
        }
      }),
    );
  });
});

/** Branches between some of 2 to 9 nodes, over six decades. */
function anyNetwork(): fc.Arbitrary<{ nodes: number; branches: Branch[] }> {
  return fc.integer({ min: 2, max: 9 }).chain((nodes) =>
    fc.record({
      nodes: fc.constant(nodes),
      branches: fc.array(
        fc
          .tuple(fc.nat(nodes - 1), fc.nat(nodes - 2), fc.double({ min: 0, max: 6, noNaN: true }))
          .map(([from, skip, decade]) => ({ from, to: (from + 1 + skip) % nodes, ohms: Math.round(10 ** decade) })),
        { minLength: 1, maxLength: 20 },
      ),
    }),
  );
}
