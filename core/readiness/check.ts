import * as z from 'zod';
import { calendarDay } from '../accuracy/meterData.ts';
import { namedText } from '../inspection/text.ts';
import { decimalText } from '../quantity/decimal.ts';

/** The checks of a bench, in the order they must pass. One whole round of them makes a bench ready. */
export const CHECKS = ['meter', 'open-leads', 'shorted-leads', 'no-voltage', 'reference', 'method', 'ambient'] as const;

export const checkName = z.enum(CHECKS);
export type CheckName = z.infer<typeof checkName>;

/** What each check is of, in words. */
export const CHECK_WORDS: Record<CheckName, string> = {
  meter: 'the meter',
  'open-leads': 'the open leads',
  'shorted-leads': 'the shorted leads',
  'no-voltage': 'no voltage',
  reference: 'the reference resistor',
  method: 'range and method',
  ambient: 'the ambient temperature',
};

/**
 * How a check came out. `by-word`: the meter cannot show it, and the operator said so. `waived`: somebody did without it,
 * with name and reason. Both let the round go on and stand on the certificate.
 */
export const outcome = z.enum(['passed', 'failed', 'by-word', 'waived']);
export type Outcome = z.infer<typeof outcome>;

/** What was looked at and the unit of what it says: functions of the meter, what it was asked, what a person said. */
export const FOUND_UNITS = {
  '2-wire': 'ohms',
  '4-wire': 'ohms',
  /** On the range the meter chooses itself, where the leads alone show best. */
  '2-wire-automatic': 'ohms',
  '4-wire-automatic': 'ohms',
  continuity: 'ohms',
  'dc-volts': 'volts',
  temperature: 'celsius',
  'temperature-typed': 'celsius',
  /** The meter's answer to who it is, asked anew. */
  identity: '',
  /** Something that makes the check fail whatever else was read, in words: an error in the meter's queue. */
  trouble: '',
  /** What the operator gave the word for. */
  word: '',
  /** Why somebody does without this check. */
  waiver: '',
} as const;

export const foundWhat = z.enum(Object.keys(FOUND_UNITS) as [FoundWhat, ...FoundWhat[]]);
export type FoundWhat = keyof typeof FOUND_UNITS;

/** One thing that was shown in a check: what, and the very text of it. */
export interface Shown {
  what: FoundWhat;
  raw: string;
}

/** One thing that was shown in a check, read. */
export const found = z.object({
  what: foundWhat,
  raw: z.string(),
  /** Exact value in `unit`; null for the meter's overload and for words. */
  value: decimalText.nullable(),
  unit: z.enum(['ohms', 'volts', 'celsius', '']),
});
export type Found = z.infer<typeof found>;

const notNegative = decimalText.refine((text) => !text.startsWith('-'), 'must not be negative');

/** A reference resistor as its own certificate gives it. */
export const referenceFacts = z.strictObject({
  name: namedText,
  ohms: notNegative.refine((text) => Number(text) > 0, 'must be above 0'),
  /** Expanded uncertainty of that value, in ohms. */
  uncertaintyOhms: notNegative,
  /** The last day on which that value counts. */
  due: calendarDay,
});
export type ReferenceFacts = z.infer<typeof referenceFacts>;
