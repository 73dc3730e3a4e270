import Big from 'big.js';
import type { Expected } from '../../core/network/expected.ts';
import type { Network, Terminals } from '../../core/network/network.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { type Draft, EMPTY_DRAFT } from '../receive/draft.ts';
import { SHARE_OF_LIMIT, worstCaseWindow } from './networkFigures.ts';

const LONGEST_DESCRIPTION = 100;

/** A network as the part of a receiving form: what it is, its value, the limits of its worst case. Null where it has no window. */
export function partFieldsOf(network: Network, terminals: Terminals, expected: Expected): Partial<Draft> | null {
  const window = worstCaseWindow(expected, SHARE_OF_LIMIT);
  if (window === null || window.nominal === null || new Big(window.nominal).lte(0)) return null;
  const { resistors } = network;
  const between = `between ${terminals[0]} and ${terminals[1]}`;
  const description = `Network of ${resistors.length === 1 ? '1 resistor' : `${resistors.length} resistors`} ${between}`;
  const { partNumber, ratedWatts, coefficient, knownPpm, knownWithinPpm, limitPpm } = EMPTY_DRAFT;
  return {
    // They belong to the part that stood there before.
    partNumber,
    ratedWatts,
    coefficient,
    knownPpm,
    knownWithinPpm,
    limitPpm,
    description: description.slice(0, LONGEST_DESCRIPTION),
    nominal: formatOhms(window.nominal),
    tolerance: `${window.lower} Ω to ${window.upper} Ω`,
  };
}
