import { randomInt } from 'node:crypto';
import type { Answers, CheckedQuestion, Entry } from '../../core/contract/contract.ts';
import { type Command, mustActAtBench } from '../../core/inspection/decide.ts';
import { factsOf, withSeed } from '../../core/inspection/lotClaim.ts';
import { nextPiece, type Run } from '../../core/inspection/run.ts';
import { claimFor } from '../../core/practice/exercise.ts';
import { scoreOf } from '../../core/practice/score.ts';
import { problem } from '../../core/problem/problem.ts';
import { LARGEST_SEED } from '../../core/sampling/positions.ts';
import { turnOf } from '../../core/study/order.ts';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import type { Meter } from '../../instruments/meter/meter.ts';
import { benchAsLeft } from '../practice/benchAsLeft.ts';
import type { Exercise } from '../practice/exerciseFile.ts';
import { exerciseNamed, readExercises } from '../practice/exercises.ts';
import { exercisesFolder } from '../practice/exercisesFolder.ts';
import type { Record } from '../record/record.ts';

type Asked = 'exercises' | 'begin-exercise' | 'act-at-bench' | 'name-cause' | 'debrief' | 'practice-results';

interface Surroundings {
  /** The user's data folder; own exercises lie in `exercises` there. */
  folder: string;
  record: Record;
  runOf: (run: number) => Run;
  act: (run: number, command: Command) => Entry[];
  meterOf: (run: number) => Meter;
  /** Has the meter for one thing at a time, before whatever capture wants of it. */
  withMeter: <T>(run: number, use: () => Promise<T>) => Promise<T>;
}

/** What the station answers of exercises, and what it needs of them elsewhere. */
export function practiceAsked({ folder, record, runOf, act, meterOf, withMeter }: Surroundings) {
  const own = exercisesFolder(folder);
  /** By their digest, so what is here is what a run was begun with. */
  const known = new Map<string, Exercise>();

  /** The exercise a run was begun with. @throws problems no-exercise, exercise-unknown, exercise-changed */
  async function exerciseOf({ practice }: Run): Promise<Exercise> {
    if (!practice) throw problem('no-exercise');
    const before = known.get(practice.digest);
    if (before) return before;
    const exercise = await exerciseNamed(own, practice.exercise);
    if (exercise.digest !== practice.digest) throw problem('exercise-changed', practice.exercise);
    known.set(exercise.digest, exercise);
    return exercise;
  }

  const doing: { [N in Asked]: (question: CheckedQuestion<N>) => Answers[N] | Promise<Answers[N]> } = {
    exercises: async () => {
      const { exercises, problems } = await readExercises(own);
      return {
        folder: own,
        exercises: exercises.map(({ open: { name, title, level, aim, task, minutes }, own }) => ({
          ...{ name, title, level, aim, task, minutes, own },
        })),
        problems: problems.map((each) => each.toJSON()),
      };
    },
    'begin-exercise': async ({ exercise: name, trainee }) => {
      const { open, digest } = await exerciseNamed(own, name);
      const facts = factsOf(withSeed(claimFor(open, trainee), randomInt(LARGEST_SEED + 1)));
      const practice = { exercise: name, title: open.title, task: open.task, asks: open.asks, digest };
      const run = record.nextRun();
      act(run, { type: 'receive-lot', facts: { ...facts, practice } });
      return { run };
    },
    'act-at-bench': ({ run, act: done }) =>
      withMeter(run, async () => {
        // Before anything is changed that could not be kept.
        mustActAtBench(runOf(run));
        const { hands } = meterOf(run);
        if (!hands) throw problem('practice-needs-bench');
        await hands.act(done);
        act(run, { type: 'act-at-bench', act: done });
        return {};
      }),
    'name-cause': ({ run, cause, which }) => {
      act(run, { type: 'name-cause', cause, which });
      return {};
    },
    debrief: async ({ run: number }) => {
      const { open: exercise, truth } = await exerciseOf(runOf(number));
      // What happened while the file was read counts as well.
      const run = runOf(number);
      if (!run.decided) throw problem('exercise-undecided');
      const scenario = readScenario(truth.scenario);
      const marks = scoreOf(run, { exercise, truth, trueOhms: (piece) => trueOhms(scenario, piece) });
      const { causes, which, dispositions, explained } = truth;
      act(number, { type: 'score-exercise', marks, causes, which, dispositions, explained });
      return {};
    },
    'practice-results': () => ({ results: record.rows.practised() }),
  };

  return {
    doing,
    /** What is laid on the bench for a run that is an exercise; as it was left where that goes on. @throws as `exerciseOf` */
    async benchOf(run: Run): Promise<BenchScenarioInput> {
      return benchAsLeft((await exerciseOf(run)).truth.scenario, run.readings.size, run.practised.acts);
    },
    /** In a study the hands are those of the operator whose turn it is. */
    async handOver(number: number): Promise<void> {
      const [run, meter] = [runOf(number), meterOf(number)];
      const { choice } = run.plan;
      if (!run.practice || choice.kind !== 'study' || !meter.hands) return;
      const { contactOhmsOf } = (await exerciseOf(run)).truth;
      const { operator } = turnOf(choice, nextPiece(run));
      const ohms = contactOhmsOf[choice.operators.indexOf(operator)];
      if (ohms !== undefined) await meter.hands.contacts(ohms);
    },
  };
}
