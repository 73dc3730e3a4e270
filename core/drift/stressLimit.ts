import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';

/** The most a piece may change: a share of its own first value, and ohms on top. Exact decimals, 0 or more, not both 0. */
export interface StressLimit {
  percent: DecimalText;
  ohms: DecimalText;
}

const WHOLE = /^(?:±|\+\/?-)?\s*(?:\((?<within>[^()]*)\)|(?<bare>[^()]*))$/u;
const PERCENT = /^(\d{1,3}(?:\.\d{1,12})?|\.\d{1,12})\s*%(?:\s*(?:of\s+)?R)?$/u;
/** An ohm, or a prefix: "0.05" alone may be meant as per cent, and so may "5e-2", whose e is no unit. */
const UNIT = /^(?!.*\d[eE][+-]?\d+$).*[a-zΩ]/iu;
const MOST_PERCENT = 100;

/**
 * Reads a limit of change in the form of IEC 60115-1, ±(x % of R + y Ω): `0.25 % + 0.05 ohm`, `±(0.25 % + 0.05 Ω)`, or one
 * of the two terms alone.
 * @throws problem stress-limit-unreadable
 */
export function parseStressLimit(text: string): StressLimit {
  const unreadable = () => problem('stress-limit-unreadable', text);
  // Some keyboards and fonts give the ohm sign U+2126; NFC makes it the Greek capital omega.
  const { within, bare } = WHOLE.exec(text.normalize('NFC').trim())?.groups ?? {};
  const terms = (within ?? bare ?? '').split('+').map((term) => term.trim());
  let [percent, ohms]: (Big | null)[] = [null, null];
  for (const term of terms) {
    const share = PERCENT.exec(term);
    if (share) {
      if (percent !== null) throw unreadable();
      percent = new Big(share[1] ?? '');
    } else {
      if (ohms !== null || !UNIT.test(term)) throw unreadable();
      ohms = ohmsIn(term, unreadable);
    }
  }
  const limit = { percent: percent ?? new Big(0), ohms: ohms ?? new Big(0) };
  if (limit.percent.gt(MOST_PERCENT) || limit.percent.plus(limit.ohms).eq(0)) throw unreadable();
  return { percent: plain(limit.percent), ohms: plain(limit.ohms) };
}

function ohmsIn(term: string, unreadable: () => Error): Big {
  try {
    return parseOhms(term);
  } catch {
    throw unreadable();
  }
}

/** The limit as it stands on screens and in files. {@link parseStressLimit} reads it back. */
export function formatStressLimit({ percent, ohms }: StressLimit): string {
  if (ohms === '0') return `±${percent} %`;
  return percent === '0' ? `±${ohms} Ω` : `±(${percent} % + ${ohms} Ω)`;
}

/**
 * The limit of one piece in exact ohms: x % of its own first value, not of its nominal one, plus y Ω (IEC 60115-1, from
 * memory). A first value of 0 or below, such as a shorted piece less the zero may have, leaves y alone.
 */
export function limitOhms({ percent, ohms }: StressLimit, before: DecimalText): Big {
  const first = new Big(before);
  // Times 0.01, not divided by 100: multiplication of decimals is exact.
  return first.gt(0) ? first.times(percent).times('0.01').plus(ohms) : new Big(ohms);
}
