import { type HistoryWords, historyWords, saidOf } from '../../core/contract/historyWords.ts';

/** What is looked for, as it stands in the address behind the question mark: `part=TF-4K7-1&disposition=accepted`. */
export function queryOf(words: HistoryWords): string {
  return new URLSearchParams(saidOf(words)).toString();
}

/** Reads it back; `leftOut` says what of it means nothing. */
export function wordsOf(query: string): ReturnType<typeof historyWords> {
  return historyWords(new URLSearchParams(query));
}
