import type * as z from 'zod';
import { factsOf, withSeed } from '../../core/inspection/lotClaim.ts';
import {
  claimFor,
  type ExerciseTruth,
  type OpenExercise,
  plainExercise,
  type SealedExercise,
  sealedExercise,
} from '../../core/practice/exercise.ts';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';
import { digestOf, seal, unseal } from './seal.ts';

/** An exercise as the station has it: what may be known of it, what is true, which is told at the debrief, and the digest of both. */
export interface Exercise {
  open: OpenExercise;
  truth: ExerciseTruth;
  digest: string;
}

export const LONGEST_EXERCISE_CHARACTERS = 200_000;

/**
 * Reads an exercise from the text of its file, plain or sealed, and checks all of it: its fields, its lot, its bench.
 * @param file as it is named to people
 * @throws problems exercise-file-unusable, exercise-seal-broken
 */
export function readExercise(file: string, text: string): Exercise {
  if (text.length > LONGEST_EXERCISE_CHARACTERS) throw unusable(file, 'the file', 'it is too long to be an exercise');
  const json = parsed(file, text.replace(/^\uFEFF/, ''));
  const isSealed = typeof json === 'object' && json !== null && 'sealed' in json;
  const exercise = isSealed
    ? opened(file, checked(file, sealedExercise, json))
    : plain(checked(file, plainExercise, json));
  mustBeUsable(file, exercise);
  return exercise;
}

/** The text of the file that is handed out: as it was written, but for what is true, which is sealed. */
export function sealedText({ open, truth }: Exercise): string {
  return `${JSON.stringify({ ...open, ...seal(open, truth) }, null, 2)}\n`;
}

function plain({ truth, ...open }: z.output<typeof plainExercise>): Exercise {
  return { open, truth, digest: digestOf(open, truth) };
}

function opened(file: string, { sealed, digest, ...open }: SealedExercise): Exercise {
  const truth = unseal(open, { sealed, digest });
  if (truth === null) throw problem('exercise-seal-broken', file);
  return { open, truth, digest };
}

/** What the schema cannot see: whether lot and bench make sense, and whether what is right can be done at all. */
function mustBeUsable(file: string, { open, truth }: Exercise): void {
  const within = <T>(where: string, use: () => T): T => {
    try {
      return use();
    } catch (thrown) {
      throw unusable(file, where, thrown instanceof Problem ? thrown.what : wordsOf(thrown));
    }
  };
  const facts = within('lot', () => factsOf(withSeed(claimFor(open, 'Somebody'), 0)));
  within('truth.scenario', () => readScenario(truth.scenario));
  const isStudy = facts.plan.choice.kind === 'study';
  const isOfStudy = (one: string) => one === 'studied' || (isStudy && one === 'on-hold');
  if (truth.dispositions.some((one) => isOfStudy(one) !== isStudy)) {
    throw unusable(
      file,
      'truth.dispositions',
      'a study ends with "studied", a lot with "accepted", "not-accepted" or "on-hold"',
    );
  }
  const operators = facts.plan.choice.kind === 'study' ? facts.plan.choice.operators.length : 0;
  if (truth.contactOhmsOf.length > 0 && truth.contactOhmsOf.length !== operators) {
    throw unusable(
      file,
      'truth.contactOhmsOf',
      `it has ${truth.contactOhmsOf.length} operators, and the study ${operators}`,
    );
  }
  if (truth.which.length > 0 && open.asks === null) {
    throw unusable(file, 'truth.which', 'it names a number, and "asks" says that none is asked for');
  }
}

function parsed(file: string, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (thrown) {
    throw unusable(file, 'the file', `it is no JSON: ${wordsOf(thrown)}`);
  }
}

function checked<S extends z.ZodType>(file: string, schema: S, json: unknown): z.output<S> {
  const result = schema.safeParse(json);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  throw unusable(file, issue?.path.join('.') || 'the file', issue?.message ?? 'it is no exercise');
}

function unusable(file: string, where: string, why: string): Problem {
  return problem('exercise-file-unusable', file, where, why);
}
