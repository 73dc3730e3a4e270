import type { Fault } from '../../core/network/faults.ts';
import { formatCount } from '../words/count.ts';
import { signedOhms } from '../words/ohmsFigure.ts';
import { percentFigure } from './networkFigures.ts';

export const SHOWS_WORDS: Record<Fault['shows'], string> = {
  always: 'Always',
  'not always': 'Not always',
  never: 'Never',
};

/** Named before the rest is counted. */
const MOST_NAMED = 4;

/** How far a fault moves the reading, like `+1.2 kΩ, +25.5 %`; empty where it does not stay a value. */
export function changeText({ ohms, shows }: Fault, nominal: number): string {
  if (shows === 'never') return 'none';
  if (ohms === Number.POSITIVE_INFINITY || nominal === Number.POSITIVE_INFINITY) return '';
  const change = signedOhms(ohms - nominal, { significant: 4 });
  return nominal === 0 ? change : `${change}, ${percentFigure((ohms / nominal - 1) * 100, true)}`;
}

/** With which other faults each is alike, in words; nothing of those that are alone. */
export function alikeWords(faults: readonly Fault[]): (fault: Fault) => string {
  const groups = new Map<number, Fault[]>();
  for (const fault of faults) {
    if (fault.alike !== null) groups.set(fault.alike, [...(groups.get(fault.alike) ?? []), fault]);
  }
  return (fault) => {
    if (fault.shows === 'never') return 'cannot be told apart from a good network';
    if (fault.alike === null) return '';
    const others = (groups.get(fault.alike) ?? []).filter((other) => other !== fault);
    const named = others.slice(0, MOST_NAMED).map(({ name, kind }) => `${name} ${kind}`);
    const more = others.length - named.length;
    return `cannot be told apart from ${named.join(', ')}${more > 0 ? ` and ${formatCount(more)} more` : ''}`;
  };
}
