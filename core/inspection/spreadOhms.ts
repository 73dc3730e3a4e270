import type Big from 'big.js';
import { type Problem, problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';

/**
 * A standard deviation as typed: `12 ohm`, or per cent of the nominal value, `0.3 %`.
 * @throws problem spread-unreadable
 */
export function spreadOhms(text: string, nominal: Big | null): DecimalText {
  const unreadable = () => problem('spread-unreadable', text);
  const percent = /^(\d{1,6}(?:\.\d{1,9})?)\s*%$/.exec(text)?.[1];
  if (percent !== undefined && nominal === null) throw unreadable();
  const ohms = percent === undefined ? spreadInOhms(text, unreadable) : (nominal as Big).times(percent).times('0.01');
  if (ohms.lte(0)) throw unreadable();
  return plain(ohms);
}

function spreadInOhms(text: string, unreadable: () => Problem): Big {
  try {
    return parseOhms(text);
  } catch {
    throw unreadable();
  }
}
