import { useEffect, useState } from 'react';
import type { Answers, ExerciseFound } from '../../core/contract/contract.ts';
import { type PracticeResult, totalOf } from '../../core/practice/practisedRun.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { goTo } from '../route.ts';
import { Sheet } from '../sheet/sheet.tsx';
import { useStation } from '../station/station.tsx';
import { remember, remembered } from '../theme/remembered.ts';
import './practice.css';

const LEVELS = ['First day', 'Some practice', 'Who knows the job'];

/** The practice tray: exercises on the simulated bench, each with its aim, and how far this trainee has come. */
export default function TrayScreen() {
  const { line, up } = useStation();
  const [found, setFound] = useState<Answers['exercises'] | null>(null);
  const [results, setResults] = useState<readonly PracticeResult[]>([]);
  const [trainee, setTrainee] = useState(() => remembered('trainee') ?? '');
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);

  useEffect(() => {
    if (!up) return;
    Promise.all([line.ask('exercises', {}), line.ask('practice-results', {})]).then(
      ([exercises, practised]) => {
        setFound(exercises);
        setResults(practised.results);
      },
      (thrown) => setProblem(asProblem(thrown)),
    );
  }, [line, up]);

  const name = trainee.trim();
  const own = results.filter((result) => result.trainee === name);
  const nameProblem = tried && name === '' ? 'Must not be empty: several people may practise here.' : undefined;

  async function begin(exercise: string) {
    setTried(true);
    setProblem(null);
    if (name === '' || busy) return;
    setBusy(true);
    try {
      const { run } = await line.ask('begin-exercise', { exercise, trainee: name });
      remember('trainee', name);
      // Where its bench does not come, the run offers it again.
      await line.ask('connect-meter', { run, address: 'sim:' }).catch(() => undefined);
      goTo({ screen: 'run', run });
    } catch (thrown) {
      setProblem(asProblem(thrown));
      setBusy(false);
    }
  }

  return (
    <Sheet
      title="Practice"
      aside={
        <Action keyName="Escape" onPress={() => goTo({ screen: 'runs' })}>
          Back
        </Action>
      }
    >
      <SimulatedMark where="measure" />
      <p className="practice-lead">
        Each exercise is a whole job on the simulated bench, where nothing can be broken. Something may be wrong with
        the reel, the meter, the leads or the part, or nothing. What it was is told at the debrief, after the lot is
        decided.
      </p>
      <div className="practice-who">
        <TextField
          label="Who practises"
          value={trainee}
          onChange={setTrainee}
          problem={nameProblem}
          offered={[...new Set(results.map((result) => result.trainee))]}
          name="trainee"
          autoFocus={trainee === ''}
          required
        />
      </div>
      <ProblemNotice problem={problem} />
      {found?.problems.map((each) => (
        <ProblemNotice key={each.what} problem={each} />
      ))}
      {LEVELS.map((words, index) => {
        const exercises = found?.exercises.filter(({ level }) => level === index + 1) ?? [];
        if (exercises.length === 0) return null;
        return (
          <section key={words} aria-labelledby={`practice-level-${index}`} className="practice-level">
            <h2 id={`practice-level-${index}`}>{words}</h2>
            <ul className="practice-tray">
              {exercises.map((exercise) => (
                <Card
                  key={exercise.name}
                  exercise={exercise}
                  results={own}
                  busy={busy}
                  onBegin={() => begin(exercise.name)}
                />
              ))}
            </ul>
          </section>
        );
      })}
      {found && (
        <p className="quiet small">
          Exercises of your own are JSON files in <span className="machine">{found.folder}</span>.{' '}
          <code className="machine">npx reelohm practice results --csv FILE</code> collects the results of everybody
          here.
        </p>
      )}
    </Sheet>
  );
}

function Card(props: {
  exercise: ExerciseFound;
  results: readonly PracticeResult[];
  busy: boolean;
  onBegin: () => void;
}) {
  const { exercise, results, busy, onBegin } = props;
  const tries = results.filter((result) => result.exercise === exercise.name);
  const totals = tries.flatMap((result) => totalOf(result) ?? []);
  const best = totals.reduce<(typeof totals)[number] | null>(
    (one, other) => (one && one.points >= other.points ? one : other),
    null,
  );
  const underWay = tries.findLast(({ marks }) => marks === null);
  return (
    <li className="practice-card">
      <h3>{exercise.title}</h3>
      <p>{exercise.aim}</p>
      <p className="quiet small">
        {exercise.minutes} minutes{exercise.own ? ', an exercise of your own' : ''}
      </p>
      <p className="practice-best">
        {best ? `Best: ${best.points} of ${best.of} points` : tries.length > 0 ? 'No debrief yet' : 'Not done yet'}
      </p>
      <div className="actions">
        <Action onPress={onBegin} disabled={busy}>
          {tries.length > 0 ? 'Begin again' : 'Begin'}
          <span className="unseen"> {exercise.title}</span>
        </Action>
        {underWay && (
          <Action onPress={() => goTo({ screen: 'run', run: underWay.run })}>Go on with run {underWay.run}</Action>
        )}
      </div>
    </li>
  );
}
