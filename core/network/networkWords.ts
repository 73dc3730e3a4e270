import { formatOhms } from '../quantity/formatOhms.ts';
import { significant } from '../quantity/significant.ts';
import type { Explanation } from './explanations.ts';
import type { Fault } from './faults.ts';

const DIGITS = 6;
/** Far below the last digit of what a network is made of. */
const MOST_DECIMALS = 9;

/** A resistance of a network for people, to six digits; `open` where nothing leads there. */
export function ohmsText(ohms: number): string {
  return ohms === Number.POSITIVE_INFINITY ? 'open' : formatOhms(significant(ohms, DIGITS, MOST_DECIMALS));
}

/** From where to where, in one text where both are the same. */
export function rangeText(lowest: number, highest: number): string {
  const [from, to] = [ohmsText(lowest), ohmsText(highest)];
  return from === to ? from : `${from} to ${to}`;
}

/** What explains a reading, in words that stand by themselves. */
export function explanationWords({ what, name, is }: Pick<Explanation, 'what' | 'name' | 'is'>): string {
  switch (what) {
    case 'good':
      return 'Nothing is wrong that this reading shows';
    case 'open':
      return `${name} is open, or a lead to it is broken`;
    case 'short':
      return `${name} is shorted, as by a solder bridge`;
    case 'sources':
      return 'A source is still connected, and gives no voltage';
    case 'other value':
      return `${name} is ${ohmsText(is ?? 0)}`;
  }
}

/** What follows from all that explains a reading: whether it can tell. */
export function cannotTellWords(explanations: readonly Pick<Explanation, 'what'>[]): string {
  const odd = explanations.filter(({ what }) => what !== 'good').length;
  if (explanations.length === 0) return 'No single fault explains this reading, nor another value in one place.';
  if (odd === explanations.length && odd === 1) return 'Nothing else that is single explains it.';
  if (odd === 0) return 'No single fault reads like this.';
  if (odd < explanations.length) {
    return `The network may be good; ${odd === 1 ? 'one fault reads' : `${odd} faults read`} like that too, and this reading cannot tell.`;
  }
  return `This reading cannot tell between these ${odd}.`;
}

/** Whether the reading between the terminals shows a fault, in words. */
export const SHOWS_WORDS: Record<Fault['shows'], string> = {
  always: 'always outside the window',
  'not always': 'may lie inside the window',
  never: 'changes nothing here',
};
