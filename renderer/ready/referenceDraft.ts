import Big from 'big.js';
import { asProblem } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { type ReferenceFacts, referenceFacts } from '../../core/readiness/check.ts';
import type { Window } from '../../core/window/window.ts';

/** A reference resistor as it is being entered, all as text. */
export interface ReferenceDraft {
  name: string;
  /** Like `4k7`. */
  ohms: string;
  /** In ohms like `0.05`, or in per cent of the value like `0.01 %`. */
  uncertainty: string;
  /** Like `2027-01-31`. */
  due: string;
}

export const EMPTY_REFERENCE: ReferenceDraft = { name: '', ohms: '', uncertainty: '', due: '' };

type Problems = Partial<Record<keyof ReferenceDraft, string>>;

const FIELDS = { name: 'name', ohms: 'ohms', uncertaintyOhms: 'uncertainty', due: 'due' } as const;

/** Reads what was entered: the reference resistor, or what is wrong, by field. */
export function readReference(draft: ReferenceDraft): { reference: ReferenceFacts | null; problems: Problems } {
  const problems: Problems = {};
  const ohms = attempt(() => parseOhms(draft.ohms), 'ohms', problems);
  const uncertainty = attempt(() => uncertaintyOf(draft.uncertainty, ohms), 'uncertainty', problems);
  const read = referenceFacts.safeParse({
    name: draft.name,
    ohms: ohms ? plain(ohms) : '',
    uncertaintyOhms: uncertainty ? plain(uncertainty) : '',
    due: draft.due.trim(),
  });
  if (read.success && Object.keys(problems).length === 0) return { reference: read.data, problems };
  for (const { path, message } of read.error?.issues ?? []) {
    const field = FIELDS[path[0] as keyof typeof FIELDS];
    problems[field] ??= sentence(message);
  }
  return { reference: null, problems };
}

function uncertaintyOf(text: string, ohms: Big | null): Big {
  const percent = /^±?\s*(\d+(?:\.\d+)?)\s*%$/.exec(text.trim())?.[1];
  if (percent === undefined) return parseOhms(text.replace(/^\s*±/, ''));
  return (ohms ?? new Big(0)).times(percent).times('0.01');
}

function attempt<T>(read: () => T, field: keyof ReferenceDraft, problems: Problems): T | null {
  try {
    return read();
  } catch (thrown) {
    const { what, toDo } = asProblem(thrown);
    problems[field] = `${what}. ${toDo}`;
    return null;
  }
}

/**
 * The reference resistor to begin with: the one used last in this run, else the one its part asks for where it is known and in
 * date, else the one nearest to the window by ratio among those in date; null where there is none.
 * @param wanted the name that the part asks for; empty where it asks for none
 * @param today a calendar day like `2026-11-25`
 */
export function likelyReference(
  known: readonly ReferenceFacts[],
  window: Window,
  lastUsed: string | null,
  today: string,
  wanted = '',
): ReferenceFacts | null {
  const again = known.find(({ name }) => name === lastUsed);
  if (again) return again;
  const first = known.find(({ name, due }) => name === wanted && due >= today);
  if (first) return first;
  const about = Number(window.nominal ?? window.upper ?? window.lower);
  const away = ({ ohms }: ReferenceFacts) => Math.abs(Math.log(Number(ohms) / about));
  return known.filter(({ due }) => due >= today).toSorted((a, b) => away(a) - away(b))[0] ?? null;
}
