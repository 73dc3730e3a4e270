import { type ContinuityRun, readingOf } from './continuityRun.ts';
import type { FoundState, PointVerdict } from './judgePoint.ts';
import { joinedBy, netsOf } from './nets.ts';

/**
 * How two terminals stand to each other. `follows`: not measured themselves, but what was measured of their nets leaves nothing else.
 * `not-known`: not measured, and nothing measured says it.
 */
export type CellVerdict = PointVerdict | 'follows' | 'not-known';

export interface MatrixCell {
  /** `depends`: on how a switch stands. */
  expected: 'closed' | 'open' | 'depends';
  /** Null where nothing was found, and where it was found otherwise in another state of a switch. */
  found: FoundState | null;
  verdict: CellVerdict;
  /** The points that were measured between them, in order. */
  points: readonly number[];
}

/** Every two terminals of a run: what was expected of them, what was found, and what that comes to. */
export interface ContinuityMatrix {
  /** In the order of the list. */
  terminals: readonly string[];
  /** Of the terminals at two places, whichever comes first. Null for one with itself. */
  at(one: number, other: number): MatrixCell | null;
}

/** Worst first: what a cell shows where several points are between the same terminals, in different states. */
const WORST: readonly PointVerdict[] = ['not-as-expected', 'cannot-tell', 'as-expected'];

/** The result of a run as a matrix of terminals. Cells are made when they are asked for. */
export function continuityMatrix(run: ContinuityRun): ContinuityMatrix {
  const { always, sometimes, nets } = netsOf(run.points);
  const terminals = nets.flat();
  const place = new Map(terminals.map((terminal, index) => [terminal, index]));
  const keyOf = (one: number, other: number) => Math.min(one, other) * terminals.length + Math.max(one, other);
  const pointsAt = new Map<number, number[]>();
  for (const { point, from, to } of run.points) {
    const key = keyOf(place.get(from) as number, place.get(to) as number);
    const known = pointsAt.get(key);
    if (known) known.push(point);
    else pointsAt.set(key, [point]);
  }
  const held = heldNets(run);
  /** Nets found apart, and nets found connected or not told, by what stands for each. */
  const [apart, other] = [new Set<string>(), new Set<string>()];
  for (const { point, from, to, expected } of run.points) {
    const reading = readingOf(run, point);
    if (expected !== 'open' || !reading) continue;
    const [a, b] = [always.rootOf(from), always.rootOf(to)];
    const sort = reading.verdict === 'as-expected' ? apart : other;
    sort.add(`${a}\n${b}`).add(`${b}\n${a}`);
  }

  return {
    terminals,
    at(one, another) {
      if (one === another) return null;
      const [from = '', to = ''] = [terminals[one], terminals[another]];
      const points = pointsAt.get(keyOf(one, another)) ?? [];
      const isAlways = always.areJoined(from, to);
      const expected = isAlways ? 'closed' : sometimes.areJoined(from, to) ? 'depends' : 'open';
      const readings = points.flatMap((number) => readingOf(run, number) ?? []);
      const verdict = WORST.find((one) => readings.some((reading) => reading.verdict === one));
      if (verdict !== undefined && readings.length === points.length) {
        const [found = null, ...others] = new Set(
          readings.filter((reading) => reading.verdict === verdict).map((reading) => reading.found),
        );
        return { expected, found: others.length === 0 ? found : null, verdict, points };
      }
      if (verdict === 'not-as-expected') return { expected, found: null, verdict, points };
      const [a, b] = [always.rootOf(from), always.rootOf(to)];
      const follows =
        points.length === 0 &&
        ((expected === 'closed' && held.has(a)) ||
          (expected === 'open' && held.has(a) && held.has(b) && apart.has(`${a}\n${b}`) && !other.has(`${a}\n${b}`)));
      if (!follows) return { expected, found: null, verdict: 'not-known', points };
      return { expected, found: expected === 'closed' ? 'closed' : 'open', verdict: 'follows', points };
    },
  };
}

/** The nets all of whose terminals were found connected, each by what stands for it. */
function heldNets(run: ContinuityRun): Set<string> {
  const { always, nets } = netsOf(run.points);
  const found = joinedBy(
    run.points,
    ({ point, state, expected }) => state === '' && expected === 'closed' && readingOf(run, point)?.found === 'closed',
  );
  const held = nets.filter(([first = '', ...others]) => others.every((terminal) => found.areJoined(first, terminal)));
  return new Set(held.map(([first = '']) => always.rootOf(first)));
}
