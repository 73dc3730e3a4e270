import * as z from 'zod';
import { exerciseTruth, plainExercise } from '../../core/practice/exercise.ts';
import { scenarioSchema } from '../../instruments/bench/scenario.ts';

/** What the file of an exercise may hold, as JSON Schema (draft 2020-12), by which an editor helps to write one. */
export function exerciseSchema(): object {
  const whole = plainExercise.extend({ truth: exerciseTruth.extend({ scenario: scenarioSchema }) });
  return z.toJSONSchema(whole, { io: 'input' });
}
