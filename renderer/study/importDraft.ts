import type { Question } from '../../core/contract/contract.ts';
import { asProblem, type ProblemCode } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { windowOf } from '../../core/window/window.ts';
import type { ChosenFile } from '../controls/fileField.tsx';
import { problemWords } from '../words/problemWords.ts';

/** The form by which readings of a study are taken from a file. */
export interface ImportDraft {
  file: ChosenFile | null;
  title: string;
  by: string;
  part: string;
  nominal: string;
  tolerance: string;
  reference: string;
  referenceUncertainty: string;
}

export type ImportField = keyof ImportDraft;

export const EMPTY_IMPORT: ImportDraft = {
  file: null,
  title: '',
  by: '',
  part: '',
  nominal: '',
  tolerance: '',
  reference: '',
  referenceUncertainty: '',
};

/** The field each problem with such a file is shown beside; all others concern the file itself. */
const FIELD_OF_PROBLEM: Partial<Record<ProblemCode, ImportField>> = {
  'study-file-unreadable': 'file',
  'study-readings-missing': 'file',
  'study-reading-twice': 'file',
  'study-one-operator': 'file',
  'study-one-piece': 'file',
  'study-one-repeat': 'file',
  'study-out-of-range': 'file',
  'study-without-spread': 'file',
  'study-reference-unfit': 'reference',
};

/** The field a problem the station found belongs to; null where it belongs to none. */
export function fieldOfProblem(code: ProblemCode): ImportField | null {
  return FIELD_OF_PROBLEM[code] ?? null;
}

/** What is wrong with what was typed of part and reference, in the station's own words. Empty fields are not wanted. */
export function importProblems(draft: ImportDraft): Partial<Record<ImportField, string>> {
  const problems: Partial<Record<ImportField, string>> = {};
  const attempt = <T>(field: ImportField, read: () => T): T | null => {
    try {
      return draft[field] === '' ? null : read();
    } catch (thrown) {
      problems[field] = problemWords(asProblem(thrown));
      return null;
    }
  };
  const nominal = attempt('nominal', () => parseOhms(draft.nominal));
  const tolerance = attempt('tolerance', () => parseTolerance(draft.tolerance));
  if (tolerance && !problems.nominal) attempt('tolerance', () => windowOf(nominal, tolerance));
  if (nominal && draft.tolerance === '')
    problems.tolerance = 'A nominal value needs its tolerance; or leave both empty.';
  attempt('reference', () => parseOhms(draft.reference));
  attempt('referenceUncertainty', () => parseOhms(draft.referenceUncertainty));
  if (draft.reference === '' && draft.referenceUncertainty !== '') {
    problems.reference = 'An uncertainty needs the value it belongs to.';
  }
  return problems;
}

/** What the station is asked; null while there is no file. */
export function importQuestion(draft: ImportDraft): Question<'import-study'> | null {
  if (draft.file === null) return null;
  const { part, nominal, tolerance, reference, referenceUncertainty } = draft;
  const title = draft.title.trim() || draft.file.name;
  return { csv: draft.file.text, title, part, nominal, tolerance, reference, referenceUncertainty };
}
