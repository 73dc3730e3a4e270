import type * as z from 'zod';
import { factsOf, type LotClaimInput, lotClaim } from '../../core/inspection/lotClaim.ts';
import { asProblem, type ProblemCode } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { MOST_TURNS, STUDY_LIMITS, type StudyChoice } from '../../core/study/studyPlan.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { type Window, windowOf } from '../../core/window/window.ts';
import { problemWords } from '../words/problemWords.ts';

/** The form by which a study is planned: what was typed and chosen, all as text. */
export interface StudyDraft {
  inspector: string;
  name: string;
  design: 'crossed' | 'single';
  partNumber: string;
  nominal: string;
  tolerance: string;
  pieces: string;
  /** Names with commas between them. */
  operators: string;
  repeats: string;
  sessions: string;
  runs: string;
  reference: string;
  referenceUncertainty: string;
  seed: string;
  method: '2-wire' | '4-wire';
  integrationCycles: string;
}

export type StudyField = keyof StudyDraft;

/** A form with the numbers that are usual: 10 pieces, 3 repeats (common practice). */
export const EMPTY_STUDY: StudyDraft = {
  inspector: '',
  name: '',
  design: 'crossed',
  partNumber: '',
  nominal: '',
  tolerance: '',
  pieces: '10',
  operators: '',
  repeats: '3',
  sessions: '1',
  runs: '1',
  reference: '',
  referenceUncertainty: '',
  seed: '',
  method: '2-wire',
  integrationCycles: '1',
};

/** What the form means by now. */
export interface StudyDraftRead {
  claim: LotClaimInput;
  window: Window | null;
  /** The study as it would be measured; null while something is wrong with it. */
  choice: StudyChoice | null;
  /** What is wrong, by field. A field that is still empty is among them when it must not be. */
  problems: Partial<Record<StudyField, string>>;
}

const FIELD_OF_PATH: Record<string, StudyField> = {
  inspector: 'inspector',
  'part.number': 'partNumber',
  'part.nominal': 'nominal',
  'part.tolerance': 'tolerance',
  'lot.number': 'name',
};

const FIELD_OF_PROBLEM: Partial<Record<ProblemCode, StudyField>> = {
  'resistance-unreadable': 'nominal',
  'nominal-outside-window': 'nominal',
  'window-without-nominal': 'nominal',
  'tolerance-unreadable': 'tolerance',
  'tolerance-too-wide': 'tolerance',
  'window-upside-down': 'tolerance',
  'window-percent-of-zero': 'tolerance',
  'study-operators-unclear': 'operators',
  'study-reference-unfit': 'reference',
  'study-out-of-range': 'repeats',
};

const LARGEST_SEED = 0xffff_ffff;

/** Reads the form: the window and the study as soon as their fields make sense, and what is wrong with each field. */
export function readStudyDraft(draft: StudyDraft): StudyDraftRead {
  const problems: StudyDraftRead['problems'] = {};
  const choice = choiceOf(draft, problems);
  const window = windowIn(draft, problems);
  const study = choice ?? PLACEHOLDER;
  const claim: LotClaimInput = {
    inspector: draft.inspector,
    part: { number: draft.partNumber, nominal: draft.nominal, tolerance: draft.tolerance },
    lot: { number: draft.name, size: study.pieces },
    plan: { study: withoutKind(study) },
    measurement: { method: draft.method, range: 'window', integrationCycles: Number(draft.integrationCycles) },
  };
  const checked = lotClaim.safeParse(claim);
  if (!checked.success) addFaults(problems, checked.error);
  else attempt(() => factsOf(checked.data), problems);
  return { claim, window, choice: Object.keys(problems).some(isOfStudy) ? null : choice, problems };
}

/** Stands in for a study whose numbers cannot be read yet, so that the other fields are checked all the same. */
const PLACEHOLDER: StudyChoice = {
  kind: 'study',
  design: 'crossed',
  pieces: 2,
  operators: ['A', 'B'],
  repeats: 2,
  seed: 0,
  sessions: 1,
  runs: 1,
  referenceOhms: null,
  referenceUncertaintyOhms: null,
};

const OF_STUDY: readonly StudyField[] = [
  'pieces',
  'operators',
  'repeats',
  'sessions',
  'runs',
  'reference',
  'referenceUncertainty',
  'seed',
];
const isOfStudy = (field: string) => OF_STUDY.some((of) => of === field);

function withoutKind({ kind: _, ...study }: StudyChoice): Omit<StudyChoice, 'kind'> {
  return study;
}

function choiceOf(draft: StudyDraft, problems: StudyDraftRead['problems']): StudyChoice | null {
  const { design } = draft;
  const limits = STUDY_LIMITS[design];
  const count = (
    field: 'pieces' | 'repeats' | 'sessions' | 'runs' | 'seed',
    [least, most]: readonly [number, number],
  ): number => {
    const found = wholeIn(draft[field], least, most);
    if (found === null) problems[field] = `A whole number from ${least} to ${most}.`;
    return found ?? Number.NaN;
  };
  const isSingle = design === 'single';
  const choice: StudyChoice = {
    kind: 'study',
    design,
    pieces: count('pieces', limits.pieces),
    operators: operatorsIn(draft, problems),
    repeats: count('repeats', limits.repeats),
    sessions: isSingle ? count('sessions', limits.sessions) : 1,
    runs: isSingle ? count('runs', limits.runs) : 1,
    seed: count('seed', [0, LARGEST_SEED]),
    referenceOhms: isSingle ? ohmsIn('reference', draft, problems) : null,
    referenceUncertaintyOhms: isSingle ? ohmsIn('referenceUncertainty', draft, problems) : null,
  };
  if (choice.referenceOhms !== null && choice.pieces > 1) {
    problems.reference ??= 'A reference value is that of one piece. Study one piece, or leave it out.';
  }
  if (choice.referenceOhms === null && choice.referenceUncertaintyOhms !== null) {
    problems.reference ??= 'An uncertainty needs the value it belongs to.';
  }
  if (Object.keys(problems).length > 0) return null;
  const turns = choice.pieces * choice.operators.length * choice.repeats * choice.sessions * choice.runs;
  if (turns > MOST_TURNS) {
    problems.repeats = `That makes ${turns} readings; a study has at most ${MOST_TURNS}.`;
    return null;
  }
  return choice;
}

/** A whole number as typed, spaces between groups allowed; null where it is none or out of range. */
function wholeIn(text: string, least: number, most: number): number | null {
  const digits = text.replace(/[\s\u00a0\u202f]/g, '');
  const value = /^\d{1,15}$/.test(digits) ? Number(digits) : Number.NaN;
  return value >= least && value <= most ? value : null;
}

function operatorsIn({ design, operators }: StudyDraft, problems: StudyDraftRead['problems']): string[] {
  const names = operators
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '');
  const [least, most] = STUDY_LIMITS[design].operators;
  const wrong = names.length < least || names.length > most;
  if (wrong) problems.operators = least === most ? 'One name.' : `${least} to ${most} names, with commas between them.`;
  else if (names.some((name) => name.length > 100)) problems.operators = 'At most 100 characters for a name.';
  else if (new Set(names.map((name) => name.normalize('NFC').toLowerCase())).size < names.length) {
    problems.operators = 'Each operator needs a name of their own.';
  }
  return names;
}

function ohmsIn(
  field: 'reference' | 'referenceUncertainty',
  draft: StudyDraft,
  problems: StudyDraftRead['problems'],
): string | null {
  if (draft[field].trim() === '') return null;
  try {
    return plain(parseOhms(draft[field]));
  } catch (thrown) {
    problems[field] = problemWords(asProblem(thrown));
    return null;
  }
}

function windowIn({ nominal, tolerance }: StudyDraft, problems: StudyDraftRead['problems']): Window | null {
  const parsed = attempt(() => (tolerance.trim() === '' ? null : parseTolerance(tolerance)), problems);
  const value = attempt(() => (nominal.trim() === '' ? null : parseOhms(nominal)), problems);
  return parsed && !problems.nominal ? attempt(() => windowOf(value, parsed), problems) : null;
}

/** Does something that may find a problem; the problem goes to its field. */
function attempt<T>(read: () => T, problems: StudyDraftRead['problems']): T | null {
  try {
    return read();
  } catch (thrown) {
    const found = asProblem(thrown);
    const field = FIELD_OF_PROBLEM[found.code];
    if (!field) throw thrown;
    problems[field] ??= problemWords(found);
    return null;
  }
}

function addFaults(problems: StudyDraftRead['problems'], error: z.ZodError): void {
  for (const issue of error.issues) {
    const field = FIELD_OF_PATH[issue.path.join('.')];
    if (field) problems[field] ??= sentence(issue.message);
  }
}
