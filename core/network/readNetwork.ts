import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import { parseTolerance } from '../window/parseTolerance.ts';
import type { Tolerance } from '../window/window.ts';
import { heldAt, valueIn } from './elementValue.ts';
import { type Network, nodesOf, type Resistor, type Source, type Terminals } from './network.ts';
import { isShorthand, readShorthand } from './shorthand.ts';

/** Above this a table of faults takes longer than anybody waits; a resistor array has a few dozen. */
export const MOST_ELEMENTS = 10_000;
const LONGEST_TEXT = 1_000_000;
const LONGEST_NAME = 40;

const COMMENT = /[#*;].*$/u;
const VOLTS = /^(\d+(?:\.\d+)?|\.\d+)\s*([mk]?)V$/u;

/**
 * Reads the description of a network. Either lines, one for each resistor, as netlists have them:
 *
 *     NAME NODE NODE VALUE TOLERANCE     R1 in mid 4k7 1%      the tolerance may be left out
 *     tolerance 5%                       of all lines below that name none
 *     between in out                     where it is measured
 *     VNAME NODE NODE VOLTS INTERNAL     V1 out 0 12V 0.5      a source that may be left connected; its name begins with V
 *
 * or one line of series (`+`) and parallel (`||`, which binds tighter), between the terminals A and B: see shorthand.ts.
 * What stands behind `#`, `*` or `;` is a comment. Names of nodes are any words, those of resistors are there once.
 * @throws problem network-unreadable, naming the line
 */
export function readNetwork(text: string): Network {
  if (text.length > LONGEST_TEXT)
    throw problem('network-unreadable', 1, `it is longer than ${LONGEST_TEXT} characters`);
  const lines = text
    .split(/\r\n|\n|\r/)
    .map((line, index) => ({ number: index + 1, text: line.replace(COMMENT, '').trim() }));
  const filled = lines.filter((line) => line.text !== '');
  const [first] = filled;
  if (first === undefined) throw problem('network-unreadable', 1, 'there is no resistor in it');
  const network =
    filled.length === 1 && isShorthand(first.text) ? readShorthand(first.text, first.number) : readLines(filled);
  if (network.resistors.length > MOST_ELEMENTS) {
    throw problem('network-unreadable', MOST_ELEMENTS, `there are more than ${MOST_ELEMENTS} resistors`);
  }
  return network;
}

interface Line {
  number: number;
  text: string;
}

function readLines(lines: readonly Line[]): Network {
  const resistors: Resistor[] = [];
  const sources: Source[] = [];
  const names = new Set<string>();
  let usual: Tolerance | null = null;
  let between: { nodes: Terminals; line: number } | null = null;
  for (const { number, text } of lines) {
    const unreadable = (why: string) => problem('network-unreadable', number, why);
    const held = <T>(read: () => T): T => heldAt(number, read);
    const [name = '', from, to, ...rest] = text.split(/\s+/u);
    if (name.toLowerCase() === 'tolerance') {
      usual = held(() => parseTolerance(text.slice(name.length)));
      if (usual.kind === 'limits') throw unreadable('limits are those of one resistor, and not of all');
      continue;
    }
    if (name.toLowerCase() === 'between') {
      if (from === undefined || to === undefined || rest.length > 0) throw unreadable('"between" takes two nodes');
      if (between !== null) throw unreadable('it says twice between which nodes it is measured');
      between = { nodes: [from, to], line: number };
      continue;
    }
    if (from === undefined || to === undefined || rest.length === 0) {
      throw unreadable('a line is NAME NODE NODE VALUE TOLERANCE, like "R1 in mid 4k7 1%"');
    }
    for (const word of [name, from, to]) {
      if (word.length > LONGEST_NAME) throw unreadable(`a name is longer than ${LONGEST_NAME} characters`);
    }
    if (names.has(name)) throw unreadable(`${name} is there twice`);
    if (from === to) throw unreadable(`both ends of ${name} are at ${from}`);
    names.add(name);
    if (/^v/iu.test(name)) {
      const [volts = '', internal = ''] = rest;
      const found = VOLTS.exec(volts);
      if (!found || rest.length !== 2)
        throw unreadable('a source is NAME NODE NODE VOLTS INTERNAL, like "V1 out 0 12V 0.5"');
      const power = found[2] === 'm' ? -3 : found[2] === 'k' ? 3 : 0;
      const ohms = held(() => parseOhms(internal));
      if (ohms.eq(0)) throw unreadable('a source has an internal resistance above 0');
      sources.push({ name, from, to, volts: plain(new Big(found[1] ?? '0').times(`1e${power}`)), ohms: plain(ohms) });
      continue;
    }
    resistors.push({ name, from, to, ...held(() => valueIn(rest, usual)) });
  }
  if (resistors.length === 0) throw problem('network-unreadable', lines[0]?.number ?? 1, 'there is no resistor in it');
  const network = { resistors, sources, between: between?.nodes ?? null };
  mustBeNodes(network, between);
  return network;
}

function mustBeNodes(network: Network, between: { nodes: Terminals; line: number } | null): void {
  if (between === null) return;
  const nodes = nodesOf(network);
  const unknown = between.nodes.find((node) => !nodes.includes(node));
  if (unknown !== undefined) throw problem('network-unreadable', between.line, `there is no node ${unknown}`);
}
