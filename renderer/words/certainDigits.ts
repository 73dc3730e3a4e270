import Big from 'big.js';
import type { DecimalText } from '../../core/quantity/decimal.ts';
import type { ShownOhms } from '../../core/quantity/formatOhms.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';

/** The figures of a value in two: those that can be relied on, and those that may be anything. Together they are all. */
export interface SplitFigures {
  certain: string;
  uncertain: string;
}

/**
 * Splits figures at the measurement's uncertainty. A digit is certain where one step of it is worth as much as the expanded
 * uncertainty or more: then the true value is at most one step of it away. Every digit after that is uncertain. The decimal
 * point goes with the digit after it. Where U is not known nothing is split; that it is not known must be said in words.
 * Our own rule; JCGM 100:2008, 7.2.6 rounds a result to the place of its uncertainty in the same way.
 * @param expandedOhms U of the value; null where it is not known
 */
export function certainDigits({ figures, unit }: ShownOhms, expandedOhms: DecimalText | null): SplitFigures {
  if (expandedOhms === null) return { certain: figures, uncertain: '' };
  const expanded = new Big(expandedOhms);
  const unitOhms = parseOhms(`1 ${unit}`);
  const point = figures.indexOf('.');
  const wholeEnd = point < 0 ? figures.length : point;
  const first = [...figures].findIndex((digit, index) => {
    if (!/\d/.test(digit)) return false;
    const power = index < wholeEnd ? wholeEnd - 1 - index : wholeEnd - index;
    return unitOhms.times(`1e${power}`).lt(expanded);
  });
  if (first < 0) return { certain: figures, uncertain: '' };
  const split = figures[first - 1] === '.' ? first - 1 : first;
  return { certain: figures.slice(0, split), uncertain: figures.slice(split) };
}
