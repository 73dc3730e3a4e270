import type { Question } from '../../core/contract/contract.ts';
import { importPieces } from '../../core/drift/importPieces.ts';
import { parseStressLimit } from '../../core/drift/stressLimit.ts';
import { asProblem, type ProblemCode } from '../../core/problem/problem.ts';
import type { ChosenFile } from '../controls/fileField.tsx';
import { problemWords } from '../words/problemWords.ts';

/** What is chosen where a run is not among the latest. */
export const ANOTHER_RUN = 'another';

/** Where the values before or after come from: a run, by its number as text, or a file. */
export interface SeriesDraft {
  from: 'run' | 'file';
  /** {@link ANOTHER_RUN} where its number is typed. */
  run: string;
  typed: string;
  file: ChosenFile | null;
}

/** What is done to pieces between two measurements; `own`: in other words. */
export const TREATMENTS = [
  ['heat', 'Heat'],
  ['load', 'Load'],
  ['solder', 'Solder'],
  ['storage', 'Storage'],
  ['own', 'In own words'],
] as const;
export type Treatment = (typeof TREATMENTS)[number][0];

/** The form of a comparison before and after a treatment. */
export interface StressDraft {
  before: SeriesDraft;
  after: SeriesDraft;
  treatment: Treatment;
  ownTreatment: string;
  limit: string;
  by: string;
}

export type StressField = keyof StressDraft;

export const EMPTY_STRESS: StressDraft = {
  before: { from: 'run', run: '', typed: '', file: null },
  after: { from: 'run', run: '', typed: '', file: null },
  treatment: 'heat',
  ownTreatment: '',
  limit: '',
  by: '',
};

/** The field each problem the station may find is shown beside. */
const FIELD_OF_PROBLEM: Partial<Record<ProblemCode, StressField>> = {
  'stress-limit-unreadable': 'limit',
  'stress-without-pairs': 'after',
  'stress-run-unfit': 'after',
};

/** The field a problem the station found belongs to; null where it belongs to none. */
export function fieldOfProblem(code: ProblemCode): StressField | null {
  return FIELD_OF_PROBLEM[code] ?? null;
}

/** What is still to be given, by field. */
export function stressMissing(draft: StressDraft): Partial<Record<StressField, string>> {
  const missing: Partial<Record<StressField, string>> = {};
  for (const when of ['before', 'after'] as const) {
    const { from, run, typed, file } = draft[when];
    if (from === 'run' && run === '') missing[when] = 'Choose a run.';
    if (from === 'run' && run === ANOTHER_RUN && typed.trim() === '') missing[when] = 'Must not be empty.';
    if (from === 'file' && file === null) missing[when] = 'Choose a file.';
  }
  if (draft.treatment === 'own' && draft.ownTreatment.trim() === '') missing.ownTreatment = 'Must not be empty.';
  if (draft.limit.trim() === '') missing.limit = 'Must not be empty.';
  if (draft.by.trim() === '') missing.by = 'Must not be empty.';
  return missing;
}

/** What is wrong with each file that was chosen; null where nothing is. A large one is not read anew at every letter of the form. */
const faults = new WeakMap<ChosenFile, string | null>();

function faultOf(file: ChosenFile): string | null {
  const known = faults.get(file);
  if (known !== undefined) return known;
  let fault: string | null = null;
  try {
    importPieces(new TextEncoder().encode(file.text));
  } catch (thrown) {
    fault = problemWords(asProblem(thrown));
  }
  faults.set(file, fault);
  return fault;
}

/** What is wrong with what was given, by field, in the station's own words. */
export function stressProblems(draft: StressDraft): Partial<Record<StressField, string>> {
  const problems: Partial<Record<StressField, string>> = {};
  const attempt = (field: StressField, read: () => unknown): void => {
    try {
      read();
    } catch (thrown) {
      problems[field] = problemWords(asProblem(thrown));
    }
  };
  for (const when of ['before', 'after'] as const) {
    const { from, file } = draft[when];
    const unreadable = from === 'file' && file ? faultOf(file) : null;
    if (unreadable !== null) problems[when] = unreadable;
    const number = numberOf(draft[when]);
    if (number !== '' && !RUN_NUMBER.test(number))
      problems[when] = 'A whole number from 1, as the list of runs has it.';
  }
  const [before, after] = [numberOf(draft.before), numberOf(draft.after)];
  if (after !== '' && before === after) {
    problems.after = 'This is the run before the treatment. Choose the one after it.';
  }
  if (draft.limit.trim() !== '') attempt('limit', () => parseStressLimit(draft.limit));
  return problems;
}

/** What the station is asked; null while something is missing or wrong. */
export function stressQuestion(draft: StressDraft): Question<'compare-stress'> | null {
  const { by: _, ...missing } = stressMissing(draft);
  if (Object.keys(missing).length > 0 || Object.keys(stressProblems(draft)).length > 0) return null;
  const [before, after] = [seriesOf(draft.before), seriesOf(draft.after)];
  return before && after && { before, after, treatment: treatmentOf(draft), limit: draft.limit };
}

const RUN_NUMBER = /^[1-9]\d{0,14}$/;

/** Of a series that is a run its number as it was chosen or typed; empty where there is none. */
function numberOf({ from, run, typed }: SeriesDraft): string {
  if (from !== 'run') return '';
  return run === ANOTHER_RUN ? typed.trim() : run;
}

function seriesOf(series: SeriesDraft): Question<'compare-stress'>['before'] | null {
  const { from, file } = series;
  if (from === 'run') return { run: Number(numberOf(series)) };
  return file && { name: file.name, csv: file.text };
}

/** The treatment as it is written down. */
export function treatmentOf({ treatment, ownTreatment }: StressDraft): string {
  return treatment === 'own' ? ownTreatment.trim() : treatment;
}
