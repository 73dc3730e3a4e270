import { meterNumber } from '../../core/quantity/meterNumber.ts';
import type { AnswerForm } from './dialect.ts';

/** What one line of a meter says. */
export type Said =
  /** `text` is the exact value in ohms, volts or degrees Celsius; `raw` says the same as the meter's number would. */
  { kind: 'value'; text: string; raw: string } | { kind: 'overload'; raw: string } | { kind: 'not-a-number' };

const NUMBER = '[+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d+)?';
const UNIT = '[^\\s\\d.,;+-][^\\s,;]*';
const ANY = '[^\\s,;]+';
const PLACEHOLDER = /\{(\w*)\}/g;
const NR = /^([+-]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d+))?$/;

/**
 * What is wrong with the form of an answer; null if nothing is. Its pattern is the text of a line in which `{value}`
 * stands for the number or a word for overload, `{unit}` for its unit and `{any}` for a word that is not looked at.
 */
export function formFault(form: AnswerForm): { field: 'pattern' | 'overload'; message: string } | null {
  const found = [...form.pattern.matchAll(PLACEHOLDER)].map(([, name]) => name);
  const fault = (message: string) => ({ field: 'pattern' as const, message });
  if (found.filter((name) => name === 'value').length !== 1) return fault('expected {value} once');
  if (found.filter((name) => name === 'unit').length > 1) return fault('expected {unit} once at most');
  const strange = found.find((name) => name !== 'value' && name !== 'unit' && name !== 'any');
  if (strange !== undefined) return fault(`{${strange}} is none of {value}, {unit} and {any}`);
  if (/[{}]/.test(form.pattern.replaceAll(PLACEHOLDER, ''))) return fault('a brace stands alone');
  if (form.pattern.replaceAll('{value}{unit}', '').includes('}{')) {
    return fault('two placeholders touch, so nobody could say where one ends; only {value}{unit} may');
  }
  const number = form.overload.find((word) => meterNumber(word) !== null);
  return number === undefined
    ? null
    : { field: 'overload', message: `"${number}" is a number, not a word for overload` };
}

/**
 * Takes a line apart by the form; null if the line is not of this form: anything left over is not. A word for overload
 * may stand without its unit.
 */
export function splitAnswer(form: AnswerForm, line: string): { value: string; unit: string | null } | null {
  for (const expression of expressionsOf(form)) {
    const groups = expression.exec(line.trim())?.groups;
    if (groups?.value !== undefined) return { value: groups.value, unit: groups.unit ?? null };
  }
  return null;
}

const known = new WeakMap<AnswerForm, RegExp[]>();

function expressionsOf(form: AnswerForm): RegExp[] {
  const found = known.get(form);
  if (found) return found;
  const words = form.overload.map(escaped);
  // Between a number and its unit meters put a blank or not; elsewhere a blank keeps two words apart.
  const pattern = form.pattern.trim().replace(/\{value\}\s*\{unit\}/, '{value}\0{unit}');
  const expressions = [expressionOf(pattern, [...words, NUMBER].join('|'))];
  if (words.length > 0) expressions.push(expressionOf(pattern.replace(/[\s\0]*[,;]?\s*\{unit\}/, ''), words.join('|')));
  known.set(form, expressions);
  return expressions;
}

function expressionOf(pattern: string, value: string): RegExp {
  const parts = new Map([
    ['{value}', `(?<value>${value})`],
    ['{unit}', `(?<unit>${UNIT})`],
    ['{any}', ANY],
  ]);
  const source = pattern
    .split(/(\{\w+\}|\s*[,;]\s*|\s+|\0)/)
    .map((part) => parts.get(part) ?? separator(part) ?? escaped(part))
    .join('');
  return new RegExp(`^${source}$`);
}

function separator(part: string): string | null {
  if (part === '\0') return ' *';
  if (/^\s+$/.test(part)) return ' +';
  return /^\s*[,;]\s*$/.test(part) ? ` *${part.trim()} *` : null;
}

function escaped(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');
}

/**
 * Reads a value in units of `multiplier` ohms, volts or degrees Celsius. Where the unit is not the ohm itself the raw
 * text is the number with its exponent moved, and for a word for overload it is infinity (SCPI-1999 volume 1, 7.2.1.4), so
 * that what is kept can be read again without the dialect.
 * @param multiplier a power of ten
 * @returns null if it is no number
 */
export function readValue(form: AnswerForm, value: string, multiplier: number): Said | null {
  if (form.overload.includes(value)) return { kind: 'overload', raw: value.startsWith('-') ? '-9.9E+37' : '+9.9E+37' };
  const number = meterNumber(value);
  if (number === null || number.kind === 'not-a-number') return number;
  if (number.kind === 'overload') return { kind: 'overload', raw: value };
  const raw = withExponentMoved(value, Number(multiplier.toExponential().split('e')[1]));
  const moved = meterNumber(raw);
  return moved?.kind === 'value' ? { kind: 'value', text: moved.text, raw } : null;
}

function withExponentMoved(number: string, places: number): string {
  const match = NR.exec(number);
  if (places === 0 || !match) return number;
  const [, sign = '', whole = '', fraction, exponent = '0'] = match;
  const moved = Number(exponent) + places;
  const digits = fraction === undefined ? whole : `${whole}.${fraction}`;
  return `${sign}${digits}E${moved < 0 ? '-' : '+'}${String(Math.abs(moved)).padStart(2, '0')}`;
}
