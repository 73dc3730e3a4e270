import { useEffect, useRef, useState } from 'react';
import type { HistoryNames } from '../../core/contract/history.ts';
import {
  filterFault,
  HISTORY_WORDS,
  type HistoryWord,
  type HistoryWords,
  historyWords,
} from '../../core/contract/historyWords.ts';
import { ChoiceField, TextField } from '../controls/field.tsx';
import { useStation } from '../station/station.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { queryOf, wordsOf } from './query.ts';

/** While somebody types, the history is not asked for every letter. */
const PAUSE_MILLISECONDS = 350;

type Texts = Record<HistoryWord, string>;

const NOT_SAID: Partial<Texts> = { practice: 'with', studies: 'with', order: 'latest-first' };

function textsOf(words: HistoryWords): Texts {
  const texts = HISTORY_WORDS.map((word) => [word, words[word] ?? NOT_SAID[word] ?? '']);
  return Object.fromEntries(texts) as Texts;
}

const AMONG = [
  ['with', 'With them'],
  ['without', 'Without them'],
  ['only', 'Only them'],
] as const;

const DISPOSITIONS = [
  ['', 'Any'],
  ['accepted', DISPOSITION_WORDS.accepted],
  ['not-accepted', DISPOSITION_WORDS['not-accepted']],
  ['on-hold', DISPOSITION_WORDS['on-hold']],
  ['studied', DISPOSITION_WORDS.studied],
  ['undecided', 'Not decided'],
] as const;

const ORDERS = [
  ['latest-first', 'Latest first'],
  ['earliest-first', 'Earliest first'],
] as const;

/**
 * What is looked for. What is typed goes into the address when it was left alone for a moment; letters of one field after
 * the other are one step on the way back.
 * @param go shows the history by another query; `inPlace` of this one
 */
export function FilterForm({ query, go }: { query: string; go: (query: string, inPlace: boolean) => void }) {
  const [texts, setTexts] = useState(() => textsOf(wordsOf(query).words));
  const names = useNames();
  /** The query this form went to last: any other is somebody's way back, or a link. */
  const own = useRef(query);
  /** The field whose letters were the last step. */
  const stepOf = useRef<HistoryWord | null>(null);
  const changed = useRef<HistoryWord | null>(null);

  useEffect(() => {
    if (own.current === query) return;
    own.current = query;
    stepOf.current = null;
    setTexts(textsOf(wordsOf(query).words));
  }, [query]);

  useEffect(() => {
    const word = changed.current;
    const next = queryOf(historyWords(Object.entries(texts)).words);
    if (word === null || next === queryOf(wordsOf(query).words)) return;
    const due = setTimeout(
      () => {
        changed.current = null;
        own.current = next;
        const isFurther = stepOf.current === word;
        stepOf.current = word;
        go(next, isFurther);
      },
      isChoice(word) ? 0 : PAUSE_MILLISECONDS,
    );
    return () => clearTimeout(due);
  }, [texts, query, go]);

  const change = (word: HistoryWord) => (value: string) => {
    changed.current = word;
    if (isChoice(word)) stepOf.current = null;
    setTexts((before) => ({ ...before, [word]: value }));
  };
  const field = (word: HistoryWord) => ({
    name: word,
    value: texts[word],
    onChange: change(word),
    problem: filterFault(word, texts[word]) ?? undefined,
    onBlur: () => {
      stepOf.current = null;
    },
  });
  const isTurned = texts.from !== '' && texts.to !== '' && texts.from > texts.to;
  return (
    <search className="history-filters">
      <TextField label="Any text" {...field('text')} />
      <TextField label="Part" offered={names.parts} {...field('part')} />
      <TextField label="Supplier" offered={names.suppliers} {...field('supplier')} />
      <TextField label="Lot" {...field('lot')} />
      <TextField label="Received from" hint="like 2026-03-02" {...field('from')} />
      <TextField
        label="Received to"
        {...field('to')}
        {...(isTurned && !field('to').problem && { problem: 'is before the first day' })}
      />
      <TextField label="Inspector" offered={names.inspectors} {...field('inspector')} />
      <ChoiceField label="Disposition" choices={DISPOSITIONS} {...field('disposition')} />
      <ChoiceField label="Practice" choices={AMONG} {...field('practice')} />
      <ChoiceField label="Studies" choices={AMONG} {...field('studies')} />
      <ChoiceField label="Order" choices={ORDERS} {...field('order')} />
    </search>
  );
}

function isChoice(word: HistoryWord): boolean {
  return ['disposition', 'practice', 'studies', 'order'].includes(word);
}

/** What is offered while somebody types. */
function useNames(): HistoryNames {
  const { line, up } = useStation();
  const [names, setNames] = useState<HistoryNames>({ parts: [], suppliers: [], inspectors: [] });
  useEffect(() => {
    if (!up) return;
    let current = true;
    line.ask('history-names', {}).then(
      (found) => current && setNames(found),
      // Anything may be typed all the same.
      () => undefined,
    );
    return () => {
      current = false;
    };
  }, [line, up]);
  return names;
}
