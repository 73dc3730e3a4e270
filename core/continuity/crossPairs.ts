import { type Nets, netsOf } from './nets.ts';
import type { ListedPoint } from './point.ts';

/**
 * Which pairs that the list does not name are measured as well, because they must not be connected: none; terminals that lie next to
 * each other; one terminal of each net against one of each other net; every two terminals of different nets.
 */
export const CROSS_CHOICES = ['none', 'neighbours', 'nets', 'all'] as const;
export type CrossChoice = (typeof CROSS_CHOICES)[number];

type Pair = readonly [from: string, to: string];

/**
 * The pairs that must be open because the list connects them in no state, without those it names itself, in the order of the list.
 * `nets` is complete where each net's own closed points hold: then all its terminals are one with the terminal that stands for
 * it, so a connection between any terminals of two nets shows between these two. A net that is broken into pieces is not looked
 * at beyond the piece with that terminal. `all` needs nothing of that, and n (n - 1) / 2 pairs.
 * @param most no more than so many and one are made
 */
export function crossPairs(listed: readonly ListedPoint[], choice: CrossChoice, most: number): Pair[] {
  if (choice === 'none') return [];
  const nets = netsOf(listed);
  const named = new Set(listed.flatMap(({ from, to }) => [keyOf(from, to), keyOf(to, from)]));
  const pairs: Pair[] = [];
  for (const [from, to] of candidates(nets, choice)) {
    if (nets.sometimes.areJoined(from, to) || named.has(keyOf(from, to))) continue;
    pairs.push([from, to]);
    if (pairs.length > most) break;
  }
  return pairs;
}

function candidates({ nets }: Nets, choice: Exclude<CrossChoice, 'none'>): Iterable<Pair> {
  const terminals = nets.flat();
  if (choice === 'neighbours') return neighbours(terminals);
  return everyTwo(choice === 'nets' ? nets.map(([first = '']) => first) : terminals);
}

function* everyTwo(terminals: readonly string[]): Generator<Pair> {
  for (const [index, from] of terminals.entries()) {
    for (const to of terminals.slice(index + 1)) yield [from, to];
  }
}

const NUMBER_BEHIND = /^(.*?)(\d{1,9})$/;

/** Terminals whose names differ only in a number at their end, each with the one of the next higher number there is. */
function* neighbours(terminals: readonly string[]): Generator<Pair> {
  const rows = new Map<string, { terminal: string; number: number }[]>();
  for (const terminal of terminals) {
    const [, name, number] = NUMBER_BEHIND.exec(terminal) ?? [];
    if (name === undefined) continue;
    const row = rows.get(name) ?? [];
    row.push({ terminal, number: Number(number) });
    rows.set(name, row);
  }
  for (const row of rows.values()) {
    const inOrder = row.sort((a, b) => a.number - b.number);
    for (const [index, { terminal }] of inOrder.entries()) {
      const next = inOrder[index + 1];
      if (next) yield [terminal, next.terminal];
    }
  }
}

function keyOf(from: string, to: string): string {
  return `${from}\n${to}`;
}
