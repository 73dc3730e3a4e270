import * as z from 'zod';
import { dispositions } from '../inspection/event.ts';
import { namedText } from '../inspection/text.ts';
import type { HistoryFilters } from './history.ts';

/** Whether what is no inspection of a real lot is among the runs. */
const among = z.enum(['with', 'without', 'only']);

/** The filters of the history by their words, as they stand in the address of the screen and as options of the command line. */
const FILTERS = {
  text: namedText,
  part: namedText,
  supplier: namedText,
  lot: namedText,
  inspector: namedText,
  from: z.iso.date('must be a day like 2026-03-02'),
  to: z.iso.date('must be a day like 2026-03-02'),
  disposition: z.enum([...dispositions.options, 'undecided']),
  practice: among,
  studies: among,
  order: z.enum(['latest-first', 'earliest-first']),
} as const;

export type HistoryWord = keyof typeof FILTERS;

/** All words, in the order in which they are written. */
export const HISTORY_WORDS = Object.keys(FILTERS) as HistoryWord[];

/** What is looked for, by words; what is left out is not asked about. */
export type HistoryWords = { [W in HistoryWord]?: z.output<(typeof FILTERS)[W]> };

/** What holds where a word is not said. */
const USUAL: HistoryWords = { practice: 'with', studies: 'with', order: 'latest-first' };

/**
 * Reads what is looked for from words and what they say, as from an address. Of a word that is said twice the later counts.
 * @returns `leftOut` says in sentences which words mean nothing here, or say what they cannot; these are not asked about
 */
export function historyWords(said: Iterable<readonly [word: string, value: string]>): {
  words: HistoryWords;
  leftOut: string[];
} {
  const words: Record<string, string> = {};
  const leftOut: string[] = [];
  for (const [word, value] of said) {
    const filter = isWord(word) ? FILTERS[word] : null;
    if (filter === null) {
      leftOut.push(`“${shortened(word)}” is no filter here and was left out.`);
      continue;
    }
    if (value.trim() === '') continue;
    const read = filter.safeParse(value);
    if (!read.success) leftOut.push(`“${word}” was left out: ${faultOf(read.error, value)}.`);
    else if (read.data === USUAL[word as HistoryWord]) delete words[word];
    else words[word] = read.data;
  }
  return { words, leftOut };
}

/** What is wrong with what a filter says; null where nothing is, or nothing is said. */
export function filterFault(word: HistoryWord, value: string): string | null {
  if (value.trim() === '') return null;
  const read = FILTERS[word].safeParse(value);
  return read.success ? null : faultOf(read.error, value);
}

/** The words that are said with what they say, always in the same order. */
export function saidOf(words: HistoryWords): [word: HistoryWord, value: string][] {
  return HISTORY_WORDS.flatMap((word) => {
    const value = words[word];
    return value === undefined || value === USUAL[word] ? [] : [[word, value] as [HistoryWord, string]];
  });
}

/** The same as a question to the station. */
export function filtersOf({ practice, studies, order = 'latest-first', ...rest }: HistoryWords): HistoryFilters {
  return {
    ...rest,
    ...(practice !== undefined && practice !== 'with' && { practice: practice === 'only' }),
    ...(studies !== undefined && studies !== 'with' && { study: studies === 'only' }),
    order,
  };
}

function isWord(word: string): word is HistoryWord {
  return Object.hasOwn(FILTERS, word);
}

/** Short enough for a sentence, and of one line. */
const MOST_SHOWN = 40;
function shortened(text: string): string {
  const line = text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, ' ');
  return line.length > MOST_SHOWN ? `${line.slice(0, MOST_SHOWN)}…` : line;
}

function faultOf(error: z.ZodError, value: string): string {
  const issue = error.issues[0];
  if (issue?.code === 'invalid_value') return `“${shortened(value)}” is none of ${issue.values.join(', ')}`;
  return `“${shortened(value)}” ${issue?.message ?? 'is not valid'}`;
}
