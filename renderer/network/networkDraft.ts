import type { MeasuredOhms } from '../../core/network/explanations.ts';
import { parseMeasured } from '../../core/network/measuredOhms.ts';
import { type Network, nodesOf, type Terminals, usualTerminals } from '../../core/network/network.ts';
import { readNetwork } from '../../core/network/readNetwork.ts';
import { asProblem } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { problemWords } from '../words/problemWords.ts';

/** The form of a network as it stands. */
export interface NetworkDraft {
  text: string;
  /** The terminals, where they were chosen; empty for those that the description means. */
  from: string;
  to: string;
  measured: string;
  uncertainty: string;
}

export type NetworkField = keyof NetworkDraft;

export const EMPTY_NETWORK: NetworkDraft = { text: '', from: '', to: '', measured: '', uncertainty: '' };

/** More than these are not worked out in a page: it would stand still for seconds. */
export const MOST_IN_A_PAGE = 3000;

/** A description that was read: what it means, or what is wrong with it. Both null while nothing is typed. */
export interface Described {
  network: Network | null;
  nodes: readonly string[];
  problem: string | null;
}

/** Reads a description. */
export function describedBy(text: string): Described {
  if (text.trim() === '') return { network: null, nodes: [], problem: null };
  try {
    const network = readNetwork(text);
    const count = network.resistors.length;
    if (count > MOST_IN_A_PAGE) {
      const problem = `There are ${count} resistors. This screen works out at most ${MOST_IN_A_PAGE}; describe a part of the network.`;
      return { network: null, nodes: [], problem };
    }
    return { network, nodes: nodesOf(network), problem: null };
  } catch (thrown) {
    return { network: null, nodes: [], problem: problemWords(asProblem(thrown)) };
  }
}

/** Where it is measured: as chosen, as the description says, or else from its first node to its last. Null without a network. */
export function terminalsOf(
  { network, nodes }: Described,
  { from, to }: Pick<NetworkDraft, 'from' | 'to'>,
): Terminals | null {
  if (network === null) return null;
  const [first, last] = usualTerminals(network);
  const chosen = (node: string, otherwise: string) => (nodes.includes(node) ? node : otherwise);
  return [chosen(from, first), chosen(to, last)];
}

/** What was measured, and what is wrong with how it was typed. */
export interface MeasuredRead {
  measured: MeasuredOhms | null;
  problems: Partial<Record<NetworkField, string>>;
}

/** Reads the fields of what was measured; an open circuit is infinity. */
export function readMeasured({ measured, uncertainty }: Pick<NetworkDraft, 'measured' | 'uncertainty'>): MeasuredRead {
  const problems: MeasuredRead['problems'] = {};
  const ohms = (field: 'measured' | 'uncertainty', text: string, parse: (text: string) => number): number | null => {
    if (text.trim() === '') return null;
    try {
      return parse(text);
    } catch (thrown) {
      problems[field] = problemWords(asProblem(thrown));
      return null;
    }
  };
  const value = ohms('measured', measured, parseMeasured);
  const expanded = ohms('uncertainty', uncertainty, (text) => Number(parseOhms(text)));
  if (value === null || problems.uncertainty) return { measured: null, problems };
  return { measured: { ohms: value, expandedOhms: expanded ?? 0 }, problems };
}
