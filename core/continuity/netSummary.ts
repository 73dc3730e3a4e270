import { type ContinuityRun, readingOf } from './continuityRun.ts';
import { joinedBy, netsOf } from './nets.ts';
import { type Point, pairWords } from './point.ts';

/** `good`: all its terminals are connected, and it was found connected to nothing it must not be. */
export type NetState = 'good' | 'broken' | 'crossed' | 'broken-and-crossed' | 'unsure' | 'not-measured';

/** One net as it was found. */
export interface NetResult {
  /** Number of the net, from 1, in the order of the list. */
  net: number;
  terminals: readonly string[];
  state: NetState;
  /** Pieces it was found in, where it is broken; the first holds the first terminal. */
  pieces: readonly (readonly string[])[];
  /** Numbers of the nets it was found connected to. */
  crossedWith: readonly number[];
  words: string;
}

export const NET_STATE_WORDS: Record<NetState, string> = {
  good: 'good',
  broken: 'broken',
  crossed: 'crossed',
  'broken-and-crossed': 'broken and crossed',
  unsure: 'cannot tell',
  'not-measured': 'not measured',
};

/** What a run found of each net: the terminals that the list always connects. Points in a state of a switch are told by themselves. */
export function netResults(run: ContinuityRun): NetResult[] {
  const { always, nets } = netsOf(run.points);
  const numberOf = new Map(nets.map(([first = ''], index) => [always.rootOf(first), index + 1]));
  const netAt = (terminal: string) => numberOf.get(always.rootOf(terminal)) ?? 0;
  const own = new Map<number, Point[]>();
  const crossed = new Map<number, Set<number>>();
  const doubtful = new Set<number>();
  for (const point of run.points) {
    const [from, to] = [netAt(point.from), netAt(point.to)];
    const reading = readingOf(run, point.point);
    if (point.expected === 'closed' && point.state === '') own.set(from, [...(own.get(from) ?? []), point]);
    if (point.expected === 'open' && reading?.verdict === 'not-as-expected' && from !== to) {
      for (const [one, other] of [
        [from, to],
        [to, from],
      ] as const) {
        crossed.set(one, (crossed.get(one) ?? new Set<number>()).add(other));
      }
    }
    if (point.expected === 'open' && reading?.verdict === 'cannot-tell') doubtful.add(from).add(to);
  }
  return nets.map((terminals, index) => {
    const net = index + 1;
    const points = own.get(net) ?? [];
    const crossedWith = [...(crossed.get(net) ?? [])].sort((a, b) => a - b);
    const readings = points.map(({ point }) => readingOf(run, point));
    const isBroken = readings.some((reading) => reading?.verdict === 'not-as-expected');
    const pieces = isBroken ? piecesOf(run, points, terminals) : [terminals];
    const isUnsure = readings.some((reading) => reading?.verdict === 'cannot-tell') || doubtful.has(net);
    const isLeft = readings.includes(null);
    const state = stateOf({ isBroken, isCrossed: crossedWith.length > 0, isUnsure, isLeft });
    return { net, terminals, state, pieces, crossedWith, words: wordsOf({ terminals, state, pieces, crossedWith }) };
  });
}

function stateOf(of: { isBroken: boolean; isCrossed: boolean; isUnsure: boolean; isLeft: boolean }): NetState {
  if (of.isBroken) return of.isCrossed ? 'broken-and-crossed' : 'broken';
  if (of.isCrossed) return 'crossed';
  if (of.isUnsure) return 'unsure';
  return of.isLeft ? 'not-measured' : 'good';
}

/** The net as far as it was found connected; the piece with its first terminal first. */
function piecesOf(run: ContinuityRun, points: readonly Point[], terminals: readonly string[]): string[][] {
  const joined = joinedBy(points, ({ point }) => readingOf(run, point)?.found === 'closed');
  for (const terminal of terminals) joined.add(terminal);
  const pieces = joined.sets();
  const [first = ''] = terminals;
  return [...pieces.filter((piece) => piece.includes(first)), ...pieces.filter((piece) => !piece.includes(first))];
}

function wordsOf({
  state,
  pieces,
  crossedWith,
}: Pick<NetResult, 'terminals' | 'state' | 'pieces' | 'crossedWith'>): string {
  const words = [NET_STATE_WORDS[state]];
  if (pieces.length > 1) {
    const [first = [], ...others] = pieces;
    words.push(`cut off from ${namesOf(first)}: ${others.map(namesOf).join('; ')}`);
  }
  if (crossedWith.length > 0) words.push(`connected to net ${crossedWith.join(', ')}, where it must not be`);
  return words.join('; ');
}

/** Names of many terminals are cut short. */
function namesOf(terminals: readonly string[]): string {
  const MOST_NAMES = 8;
  const more = terminals.length - MOST_NAMES;
  return `${terminals.slice(0, MOST_NAMES).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/**
 * Wires that look swapped: of two closed pairs both read no connection, and what was measured across them conducts both ways. In
 * sentences.
 */
export function swappedWords(run: ContinuityRun): string[] {
  const crossings = new Set<string>();
  for (const { point, from, to, expected } of run.points) {
    if (expected !== 'open' || readingOf(run, point)?.found !== 'closed') continue;
    crossings.add(`${from}\n${to}`);
    crossings.add(`${to}\n${from}`);
  }
  const broken = run.points.filter(
    ({ point, expected }) => expected === 'closed' && readingOf(run, point)?.reason === 'no-connection',
  );
  const areCrossed = (one: string, other: string) => crossings.has(`${one}\n${other}`);
  const words: string[] = [];
  for (const [index, one] of broken.entries()) {
    for (const other of broken.slice(index + 1)) {
      const isSwapped =
        (areCrossed(one.from, other.to) && areCrossed(other.from, one.to)) ||
        (areCrossed(one.from, other.from) && areCrossed(one.to, other.to));
      if (isSwapped) words.push(`${pairWords(one)} and ${pairWords(other)} look swapped`);
    }
  }
  return words;
}
