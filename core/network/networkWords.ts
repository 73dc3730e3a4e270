import { formatCount } from '../quantity/formatCount.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { significant } from '../quantity/significant.ts';
import type { Explanation } from './explanations.ts';
import type { Fault } from './faults.ts';
import type { Network } from './network.ts';

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

/** One explanation, like `R3 open`. */
export function explanationWords(
  { what, name, is }: Pick<Explanation, 'what' | 'name' | 'is'>,
  network: Pick<Network, 'resistors' | 'sources'>,
): string {
  switch (what) {
    case 'good':
      return 'Nothing is wrong';
    case 'open':
    case 'short':
      return `${name} ${what}`;
    case 'sources':
      return `${network.sources.map((source) => source.name).join(', ')} left connected, giving no voltage`;
    case 'other value': {
      const own = network.resistors.find((resistor) => resistor.name === name)?.ohms ?? '0';
      return `${name} is ${ohmsText(is ?? 0)} instead of ${ohmsText(Number(own))}`;
    }
  }
}

/** What all of them come to. */
export function explanationsSentence(explanations: readonly Pick<Explanation, 'what'>[]): string {
  const faults = explanations.filter(({ what }) => what !== 'good').length;
  const isGood = faults < explanations.length;
  if (isGood && faults === 0) return 'A good network reads so: nothing need be wrong.';
  if (faults === 0) return 'No single fault explains this reading.';
  const between = `This reading cannot tell between these ${formatCount(faults)}.`;
  if (!isGood) return faults === 1 ? 'A single fault explains this reading.' : between;
  const good = 'A good network may read so, and so may one with a fault that hardly shows.';
  return faults === 1 ? good : `${good} ${between}`;
}

/** Whether the reading between the terminals shows a fault, in words. */
export const SHOWS_WORDS: Record<Fault['shows'], string> = {
  always: 'always outside the window',
  'not always': 'may lie inside the window',
  never: 'changes nothing here',
};
