import { problem } from '../problem/problem.ts';
import { heldAt, valueIn } from './elementValue.ts';
import type { Network, Resistor } from './network.ts';

/** Terminals of a network in shorthand. */
export const SHORTHAND_TERMINALS = ['A', 'B'] as const;

const TOKEN = /\s*(\|\||[+()]|(?:(?!\|\|)[^+()])+)/uy;
const NAMED = /^([^\s=]+)\s*=\s*(.+)$/u;
const DEEPEST = 200;

/** In none of the three names that a line of a netlist begins with. */
const SIGN = /[+()=]|\|\|/u;
const NAMES = 3;

/** Whether a line is shorthand, like `10k + (4k7 1% || 3k3)`, `R1=10k + R2=4k7` or one value by itself, and not a line of a netlist. */
export function isShorthand(line: string): boolean {
  const words = line.split(/\s+/u);
  return words.length <= NAMES || words.slice(0, NAMES).some((word) => SIGN.test(word));
}

type Tree = { kind: 'one'; text: string } | { kind: 'series' | 'parallel'; parts: Tree[] };

/**
 * Reads series and parallel:
 *
 *     SERIES   = PARALLEL, or SERIES + PARALLEL
 *     PARALLEL = ONE, or PARALLEL || ONE
 *     ONE      = ( SERIES ), or NAME=VALUE TOLERANCE; name and tolerance may be left out
 *
 * Resistors without a name are called R1, R2, … from left to right, nodes inside 1, 2, …
 * @throws problem network-unreadable
 */
export function readShorthand(line: string, number = 1): Network {
  const unreadable = (why: string) => problem('network-unreadable', number, why);
  const tokens = tokensOf(line);
  let at = 0;
  const listOf = (kind: 'series' | 'parallel', sign: string, part: () => Tree): Tree => {
    const parts = [part()];
    while (tokens[at] === sign) {
      at++;
      parts.push(part());
    }
    return parts.length === 1 ? (parts[0] as Tree) : { kind, parts };
  };
  let depth = 0;
  const series = (): Tree => listOf('series', '+', parallel);
  const parallel = (): Tree => listOf('parallel', '||', one);
  const one = (): Tree => {
    const token = tokens[at++];
    if (token === '(') {
      if (++depth > DEEPEST) throw unreadable(`there are more than ${DEEPEST} brackets in each other`);
      const inner = series();
      depth--;
      if (tokens[at++] !== ')') throw unreadable('a bracket is not closed');
      return inner;
    }
    if (token === undefined || token === '+' || token === '||' || token === ')') {
      throw unreadable(token === undefined ? 'a value is missing at the end' : `a value is missing before "${token}"`);
    }
    return { kind: 'one', text: token };
  };
  const tree = series();
  if (at < tokens.length) throw unreadable(`"${tokens[at]}" stands where a + or || is expected`);
  const resistors = placed(tree, number);
  return { resistors, sources: [], between: SHORTHAND_TERMINALS };
}

function tokensOf(line: string): string[] {
  const tokens: string[] = [];
  TOKEN.lastIndex = 0;
  for (let found = TOKEN.exec(line); found !== null; found = TOKEN.exec(line)) {
    const token = found[1]?.trim() ?? '';
    if (token !== '') tokens.push(token);
  }
  return tokens;
}

/** The resistors of a tree at their nodes. */
function placed(tree: Tree, line: number): Resistor[] {
  const resistors: Resistor[] = [];
  const names = new Set<string>();
  let nodes = 0;
  const place = (part: Tree, from: string, to: string): void => {
    if (part.kind === 'one') {
      const [, given, value = part.text] = NAMED.exec(part.text) ?? [];
      const name = given ?? `R${resistors.length + 1}`;
      if (names.has(name)) throw problem('network-unreadable', line, `${name} is there twice`);
      names.add(name);
      resistors.push({ name, from, to, ...heldAt(line, () => valueIn(value.split(/\s+/u), null)) });
      return;
    }
    let begin = from;
    for (const [index, each] of part.parts.entries()) {
      const isLast = index === part.parts.length - 1;
      if (part.kind === 'parallel') place(each, from, to);
      else {
        const end = isLast ? to : String(++nodes);
        place(each, begin, end);
        begin = end;
      }
    }
  };
  place(tree, ...SHORTHAND_TERMINALS);
  return resistors;
}
