/** An error as it stands in an instrument's queue (SCPI-1999 volume 2, 21.8.9 to 21.8.12). */
export class ScpiError extends Error {
  readonly number: number;
  /** Added to the text behind a semicolon. */
  readonly detail: string;

  constructor(number: keyof typeof errorTexts, detail = '') {
    super(errorTexts[number]);
    this.number = number;
    this.detail = detail;
  }

  override toString(): string {
    const detail = this.detail === '' ? '' : `;${this.detail}`;
    return `${this.number},"${this.message}${detail.replaceAll('"', "'")}"`;
  }
}

export const errorTexts = {
  [-101]: 'Invalid character',
  [-102]: 'Syntax error',
  [-104]: 'Data type error',
  [-108]: 'Parameter not allowed',
  [-109]: 'Missing parameter',
  [-113]: 'Undefined header',
  [-131]: 'Invalid suffix',
  [-151]: 'Invalid string data',
  [-201]: 'Invalid while in local',
  [-222]: 'Data out of range',
  [-224]: 'Illegal parameter value',
  [-230]: 'Data corrupt or stale',
  [-310]: 'System error',
  [-350]: 'Queue overflow',
  [-363]: 'Input buffer overrun',
} as const;

export type Parameter =
  | { kind: 'number'; value: number; suffix: string }
  | { kind: 'word'; text: string }
  | { kind: 'string'; text: string };

/** One command or query of a message. */
export interface Unit {
  /** As written, in capitals, without a leading colon and question mark. */
  header: string;
  query: boolean;
  /** Written with a leading colon: starts at the root again. */
  root: boolean;
  parameters: string;
}

/** Splits a message at a separator, but not inside quoted strings. */
function splitOutsideQuotes(text: string, separator: string): string[] {
  const parts: string[] = [];
  let start = 0;
  let quote = '';
  for (let at = 0; at < text.length; at++) {
    const character = text.charAt(at);
    if (quote !== '') {
      if (character === quote) quote = '';
    } else if (character === '"' || character === "'") {
      quote = character;
    } else if (character === separator) {
      parts.push(text.slice(start, at));
      start = at + 1;
    }
  }
  if (quote !== '') throw new ScpiError(-151);
  parts.push(text.slice(start));
  return parts;
}

/**
 * Splits a program message into its units (IEEE 488.2 7.3.2: separated by semicolons).
 * @throws {ScpiError} -151 for a string without its closing quote
 */
export function splitMessage(message: string): string[] {
  return splitOutsideQuotes(message, ';')
    .map((unit) => unit.trim())
    .filter((unit) => unit !== '');
}

/**
 * Reads the header of one unit (IEEE 488.2 7.6.1 and 7.6.2).
 * @throws {ScpiError} -101 for bytes outside printable ASCII, -102 for what is no header
 */
export function readUnit(text: string): Unit {
  if (/[^\t\x20-\x7e]/.test(text)) throw new ScpiError(-101);
  const match = /^(:?)(\*?[A-Za-z]\w*(?::[A-Za-z]\w*)*)(\??)(?:\s+(.*))?$/s.exec(text);
  const header = match?.[2]?.toUpperCase();
  if (header === undefined || (header.startsWith('*') && (match?.[1] || header.includes(':')))) {
    throw new ScpiError(-102, text);
  }
  return { header, query: match?.[3] === '?', root: match?.[1] === ':', parameters: match?.[4]?.trim() ?? '' };
}

// IEEE 488.2 7.7.2 (decimal numeric, blanks before the exponent allowed) with 7.7.3 (suffix).
const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+))(?:\s*E\s*([+-]?\d+))?\s*([A-Z]*)$/i;

/**
 * Reads the parameters of a unit, separated by commas (IEEE 488.2 7.4.2 and 7.7).
 * @throws {ScpiError} -102, -151
 */
export function readParameters(text: string): Parameter[] {
  if (text === '') return [];
  return splitOutsideQuotes(text, ',').map((part) => readParameter(part.trim()));
}

function readParameter(text: string): Parameter {
  const quote = text.charAt(0);
  if (quote === '"' || quote === "'") {
    const inner = text.slice(1, -1);
    if (text.length < 2 || !text.endsWith(quote) || inner.replaceAll(quote + quote, '').includes(quote)) {
      throw new ScpiError(-151, text);
    }
    return { kind: 'string', text: inner.replaceAll(quote + quote, quote) };
  }
  const number = NUMBER.exec(text);
  if (number) {
    const value = Number(`${number[1]}e${number[2] ?? '0'}`);
    return { kind: 'number', value, suffix: (number[3] ?? '').toUpperCase() };
  }
  if (/^[A-Za-z]\w*$/.test(text)) return { kind: 'word', text: text.toUpperCase() };
  throw new ScpiError(-102, text);
}

/** A word in its short or its long form, and no other (SCPI-1999 volume 1, 6.2.1). */
export function isForm(pattern: string, text: string): boolean {
  return text === shortForm(pattern) || text === pattern.toUpperCase();
}

function shortForm(pattern: string): string {
  return pattern.replace(/[a-z]+/g, '');
}

/**
 * All spellings of a header in capitals. Written as in the standard: `[SENSe:]RESistance:RANGe[:UPPer]`, capitals for
 * the short form, brackets for what may be left out (SCPI-1999 volume 1, 5.1 and 6.2).
 */
export function spellings(pattern: string): string[] {
  let found = [''];
  for (const [node] of pattern.matchAll(/\[[^\]]*\]|[^[\]:]+|:/g)) {
    const text = node.replace(/[[\]]/g, '');
    const forms = new Set([shortForm(text), text.toUpperCase()]);
    if (node.startsWith('[')) forms.add('');
    found = found.flatMap((start) => [...forms].map((form) => start + form));
  }
  return found;
}
