import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CROSS_CHOICES, crossPairs } from '../../../core/continuity/crossPairs.ts';
import { contradictionsIn, netsOf } from '../../../core/continuity/nets.ts';
import type { ListedPoint } from '../../../core/continuity/point.ts';

const terminal = fc.constantFrom('A1', 'A2', 'A3', 'B1', 'B2', 'B3', 'C1', 'C2', 'GND', 'X');
const listed = fc
  .array(
    fc.record({
      from: terminal,
      to: terminal,
      expected: fc.constantFrom('closed' as const, 'open' as const),
      state: fc.constantFrom('', '', '', 'S1 on', 'S1 off'),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .map((pairs) =>
    pairs
      .filter(({ from, to }) => from !== to)
      .map((pair): ListedPoint => ({ ...pair, wire: '', note: '', limitOhms: null })),
  )
  .filter((pairs) => pairs.length > 0);

/** Which terminals can be reached from which, by brute force (transitive closure; Warshall, 1962). */
function closure(points: readonly ListedPoint[], isTaken: (point: ListedPoint) => boolean) {
  const names = [...new Set(points.flatMap(({ from, to }) => [from, to]))];
  const reach = new Map(names.map((name) => [name, new Set([name])]));
  for (const one of points) {
    if (one.expected !== 'closed' || !isTaken(one)) continue;
    reach.get(one.from)?.add(one.to);
    reach.get(one.to)?.add(one.from);
  }
  for (const via of names)
    for (const from of names)
      for (const to of names) if (reach.get(from)?.has(via) && reach.get(via)?.has(to)) reach.get(from)?.add(to);
  return { names, joined: (a: string, b: string) => reach.get(a)?.has(b) ?? false };
}

describe('nets of a list', () => {
  it('are the connected components of its closed points, as a transitive closure finds them', () => {
    fc.assert(
      fc.property(listed, (points) => {
        const { always, sometimes, nets } = netsOf(points);
        const [brute, any] = [closure(points, ({ state }) => state === ''), closure(points, () => true)];
        expect(nets.flat().sort()).toEqual([...brute.names].sort());
        for (const a of brute.names)
          for (const b of brute.names) {
            expect(always.areJoined(a, b)).toBe(brute.joined(a, b));
            expect(sometimes.areJoined(a, b)).toBe(any.joined(a, b));
            expect(nets.some((net) => net.includes(a) && net.includes(b))).toBe(brute.joined(a, b));
          }
      }),
    );
  });

  it('contradict an open point exactly where closed ones of its state connect its terminals', () => {
    fc.assert(
      fc.property(listed, (points) => {
        const states = [...new Set(points.map(({ state }) => state))];
        const wrong = points.flatMap(({ from, to, expected, state }, index) => {
          const looked = state === '' ? states : [state];
          const isWrong = looked.some((of) =>
            closure(points, (one) => one.state === '' || one.state === of).joined(from, to),
          );
          return expected === 'open' && isWrong ? [index] : [];
        });
        expect(contradictionsIn(points)).toEqual(wrong);
      }),
    );
  });
});

describe('pairs that follow from a list', () => {
  it('are never connected by it, never named by it, never there twice', () => {
    fc.assert(
      fc.property(listed, fc.constantFrom(...CROSS_CHOICES), (points, choice) => {
        const any = closure(points, () => true);
        const pairs = crossPairs(points, choice, 1000).map(([a, b]) => [a, b].sort().join());
        const named = points.map(({ from, to }) => [from, to].sort().join());
        expect(new Set(pairs).size).toBe(pairs.length);
        for (const pair of pairs) {
          const [a = '', b = ''] = pair.split(',');
          expect(any.joined(a, b)).toBe(false);
          expect(named).not.toContain(pair);
        }
      }),
    );
  });

  it('are every two terminals of different nets (all), by counting them one by one', () => {
    fc.assert(
      fc.property(listed, (points) => {
        const any = closure(points, () => true);
        const named = new Set(points.map(({ from, to }) => [from, to].sort().join()));
        let wanted = 0;
        for (const [index, a] of any.names.entries())
          for (const b of any.names.slice(index + 1))
            if (!any.joined(a, b) && !named.has([a, b].sort().join())) wanted++;
        expect(crossPairs(points, 'all', 1000)).toHaveLength(wanted);
      }),
    );
  });

  it('with one terminal of each net find every connection between two nets that hold', () => {
    const harness = fc.array(fc.array(fc.constant(0), { minLength: 1, maxLength: 4 }), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(harness, fc.nat(), fc.nat(), (sizes, one, other) => {
        const nets = sizes.map((net, at) => net.map((_, index) => `N${at}:${index + 1}`).concat(`N${at}:0`));
        const points = nets.flatMap((net) =>
          net.slice(1).map(
            (to, index): ListedPoint => ({
              from: net[index] as string,
              to,
              expected: 'closed',
              wire: '',
              note: '',
              state: '',
              limitOhms: null,
            }),
          ),
        );
        const [a, b] = [one % nets.length, other % nets.length];
        fc.pre(a !== b);
        // Somewhere between the two nets there is a connection that must not be.
        const short = [nets[a]?.[one % (nets[a]?.length ?? 1)], nets[b]?.[other % (nets[b]?.length ?? 1)]] as string[];
        const real: ListedPoint[] = [
          ...points,
          { ...(points[0] as ListedPoint), from: short[0] as string, to: short[1] as string },
        ];
        const conducts = closure(real, () => true);
        expect(crossPairs(points, 'nets', 1000).some(([from, to]) => conducts.joined(from, to))).toBe(true);
      }),
    );
  });

  it('next to each other are those of the next higher number of the same name', () => {
    const point = (from: string, to: string): ListedPoint => ({
      from,
      to,
      expected: 'closed',
      wire: '',
      note: '',
      state: '',
      limitOhms: null,
    });
    const points = [point('X1:2', 'X2:1'), point('X1:10', 'X2:2'), point('X1:3', 'X2:4')];
    expect(crossPairs(points, 'neighbours', 100)).toEqual([
      ['X1:2', 'X1:3'],
      ['X1:3', 'X1:10'],
      ['X2:1', 'X2:2'],
      ['X2:2', 'X2:4'],
    ]);
  });

  it('stop where there are more than are wanted', () => {
    const points = Array.from({ length: 300 }, (_, index) => ({
      from: `A${index}`,
      to: `B${index}`,
      expected: 'closed' as const,
      wire: '',
      note: '',
      state: '',
      limitOhms: null,
    }));
    expect(crossPairs(points, 'nets', 1e6)).toHaveLength((300 * 299) / 2);
    expect(crossPairs(points, 'nets', 5000)).toHaveLength(5001);
  });
});
