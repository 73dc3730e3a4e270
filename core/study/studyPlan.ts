import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { decimalText } from '../quantity/decimal.ts';

const count = z.number('expected a whole number').int('expected a whole number');

/**
 * How a study is to be measured. Only its form is checked here; whether its numbers make a study is for {@link turnsOf}.
 *
 * - `crossed`: every operator measures every piece `repeats` times (repeatability and reproducibility).
 * - `single`: one operator measures every piece `repeats` times in each of `sessions` sessions (days, say) of each of
 *   `runs` runs (weeks or months apart), levels 1, 2 and 3 of NIST/SEMATECH e-Handbook 2.4.3 and 2.6.1.
 */
export const studyChoice = z.strictObject({
  kind: z.literal('study'),
  design: z.enum(['crossed', 'single']),
  pieces: count,
  operators: z.array(z.string().trim().max(100, 'at most 100 characters')),
  /** Readings of a piece by one operator; of a single-operator study within one session. */
  repeats: count,
  /** Where the random order starts: a whole number from 0 to 4 294 967 295, recorded with the study. */
  seed: count,
  sessions: count.default(1),
  runs: count.default(1),
  /** Known value of the one piece, in ohms. */
  referenceOhms: decimalText.nullable().default(null),
  /** Expanded uncertainty (k = 2) of that value as its certificate states it, in ohms. */
  referenceUncertaintyOhms: decimalText.nullable().default(null),
});

export type StudyChoice = z.output<typeof studyChoice>;
/** As it may be written (defaults left out). */
export type StudyChoiceInput = z.input<typeof studyChoice>;

/** How many pieces, operators, repeats, sessions and runs a study may have. Our own choice, around what is usual. */
export const STUDY_LIMITS = {
  crossed: { pieces: [2, 50], operators: [2, 10], repeats: [2, 20], sessions: [1, 1], runs: [1, 1] },
  single: { pieces: [1, 50], operators: [1, 1], repeats: [2, 50], sessions: [1, 20], runs: [1, 10] },
} as const;

/** Most turns one study may have; more nobody measures by hand. */
export const MOST_TURNS = 10_000;

const LARGEST_SEED = 0xffff_ffff;

/**
 * How many readings (turns) the study asks for: pieces × operators × repeats × sessions × runs.
 * @throws problems study-out-of-range, study-operators-unclear, study-reference-unfit
 */
export function turnsOf(choice: StudyChoice): number {
  const limits = STUDY_LIMITS[choice.design];
  const counts = {
    pieces: choice.pieces,
    operators: choice.operators.length,
    repeats: choice.repeats,
    sessions: choice.sessions,
    runs: choice.runs,
  };
  for (const field of ['pieces', 'operators', 'repeats', 'sessions', 'runs'] as const) {
    mustBeWithin(`${field} (${choice.design})`, counts[field], limits[field]);
  }
  mustBeWithin('as its seed', choice.seed, [0, LARGEST_SEED]);
  mustBeDistinct(choice.operators);
  mustFitReference(choice);
  const turns = counts.pieces * counts.operators * counts.repeats * counts.sessions * counts.runs;
  mustBeWithin('turns', turns, [1, MOST_TURNS]);
  return turns;
}

function mustBeWithin(field: string, found: number, [from, to]: readonly [number, number]): void {
  if (Number.isSafeInteger(found) && found >= from && found <= to) return;
  const range = from === to ? `it must be ${from}` : `it must be a whole number from ${from} to ${to}`;
  throw problem('study-out-of-range', field, found, range);
}

function mustBeDistinct(operators: readonly string[]): void {
  const seen = new Set<string>();
  for (const operator of operators) {
    const name = operator.normalize('NFC').trim().toLowerCase();
    if (name === '') throw problem('study-operators-unclear', 'one has no name');
    if (seen.has(name)) throw problem('study-operators-unclear', `"${operator.trim()}" is there twice`);
    seen.add(name);
  }
}

function mustFitReference({ design, pieces, referenceOhms, referenceUncertaintyOhms }: StudyChoice): void {
  if (referenceOhms === null) {
    if (referenceUncertaintyOhms !== null)
      throw problem('study-reference-unfit', 'there is an uncertainty but no value');
    return;
  }
  if (design === 'crossed')
    throw problem('study-reference-unfit', 'a crossed study compares operators, not with a value');
  if (pieces !== 1) throw problem('study-reference-unfit', `there are ${pieces} pieces and one value`);
  if (Number(referenceOhms) <= 0) throw problem('study-reference-unfit', `${referenceOhms} Ω is no value of a piece`);
  if (Number(referenceUncertaintyOhms ?? 0) < 0) {
    throw problem('study-reference-unfit', `its uncertainty ${referenceUncertaintyOhms} Ω is negative`);
  }
}
