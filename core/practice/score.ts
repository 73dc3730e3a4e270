import { outlook } from '../inspection/outlook.ts';
import { counts, type Run } from '../inspection/run.ts';
import { isProven } from '../readiness/round.ts';
import { conforms } from '../window/judge.ts';
import { type ExerciseTruth, MARKS, type MarkName, type OpenExercise, pointsOf } from './exercise.ts';

/** Points for one thing, and why. */
export interface Mark {
  mark: MarkName;
  points: number;
  of: number;
  why: string;
}

/** What is known of a practice run when it is scored. */
export interface Scored {
  exercise: Pick<OpenExercise, 'points' | 'minutes' | 'asks'>;
  truth: ExerciseTruth;
  /** True value of a piece in ohms; null where it conducts nothing. */
  trueOhms: (piece: number) => number | null;
}

/** The share of the nominal value by which a piece may be off at another temperature than that of its value. Our choice. */
const TEMPERATURE_SHARE = 1e-3;
/** What half of the time points takes, in times of what was given. */
const LATE = 2;

/** Points for a run that is decided, mark by mark. Pure; the same run always has the same points. */
export function scoreOf(run: Run, scored: Scored): Mark[] {
  const shares: Record<MarkName, [share: number, why: string]> = {
    'bench shown ready': readiness(run),
    'pieces judged right': pieces(run, scored),
    'nothing on suspect readings': suspects(run),
    'cause named': cause(run, scored),
    'lot decided right': lot(run, scored),
    time: time(run, scored),
  };
  return (Object.keys(MARKS) as MarkName[]).map((mark) => {
    const of = pointsOf(scored.exercise, mark);
    const [share, why] = shares[mark];
    return { mark, points: Math.round(of * share), of, why };
  });
}

function readiness(run: Run): [number, string] {
  const faults: string[] = [];
  if (run.lastGood === 0 && run.round.length === 0 && run.readings.size === 0) {
    return [0, 'No check of the bench was done.'];
  }
  let share = 1;
  if (!isProven(run)) {
    share -= 0.5;
    faults.push('the lot was put away before the checks had passed');
  }
  const waived = run.history.filter((one) => one.kind === 'check' && one.found.some(({ what }) => what === 'waiver'));
  if (waived.size > 0) {
    share -= 0.3;
    faults.push('the reference was waived');
  }
  const byWord = run.history.filter((one) => one.kind === 'check' && one.found.some(({ what }) => what === 'word'));
  if (byWord.size > 0 && run.meter?.measures.includes('dc-volts')) {
    share -= 0.2;
    faults.push('that nothing is live was said and not measured');
  }
  return [share, faults.length === 0 ? 'Every check was done, in its order.' : `${faults.join('; ')}.`];
}

/** Of the readings that count, how many verdicts say what the piece is. Of a study: how many turns were taken. */
function pieces(run: Run, { truth, trueOhms }: Scored): [number, string] {
  const counted = Array.from(run.readings).filter(counts);
  if (run.plan.choice.kind === 'study') {
    const share = Math.min(1, counted.length / run.plan.sampleSize);
    return [share, `${counted.length} of ${run.plan.sampleSize} turns were taken.`];
  }
  if (counted.length === 0) {
    return isRightlyHeld(run, truth) ? [1, 'No piece could be judged, and none was.'] : [0, 'No reading counts.'];
  }
  const wrong = counted.filter(
    ({ piece, position, verdict, uncertainty }) =>
      !isRight(run, conforms(verdict), trueOhms(position ?? piece), Number(uncertainty?.expandedOhms ?? 0)),
  );
  // What the plan asks for and was not measured is not judged: but where it was certain before, or no piece could be, nothing more was needed.
  const isEnough = outlook(run) !== 'undecided' || isRightlyHeld(run, truth);
  const asked = isEnough ? counted.length : Math.max(counted.length, run.plan.sampleSize);
  const first = wrong[0];
  const why =
    wrong.length > 0
      ? `${wrong.length} of ${counted.length} pieces were judged otherwise than they are, piece ${first?.piece} first.`
      : asked > counted.length
        ? `All ${counted.length} were judged right, of ${asked} that the plan asks for.`
        : `All ${counted.length} pieces were judged as they are.`;
  return [(counted.length - wrong.length) / asked, why];
}

function isRightlyHeld(run: Run, { dispositions }: ExerciseTruth): boolean {
  return run.decided?.disposition === 'on-hold' && dispositions.every((one) => one === 'on-hold');
}

/** Whether a piece is as it was judged; so near to a limit that nobody could tell, or its guard band decides, either is right. */
function isRight({ window, decision }: Run, conforming: boolean, ohms: number | null, expanded: number): boolean {
  if (ohms === null) return !conforming;
  const slack =
    expanded * Math.max(1, Number(decision.guardFactor)) +
    TEMPERATURE_SHARE * Number(window.nominal ?? window.upper ?? 0);
  const [lower, upper] = [
    Number(window.lower ?? Number.NEGATIVE_INFINITY),
    Number(window.upper ?? Number.POSITIVE_INFINITY),
  ];
  const inside = Math.min(ohms - lower, upper - ohms);
  return Math.abs(inside) <= slack || inside > 0 === conforming;
}

function suspects(run: Run): [number, string] {
  const left = run.again.length;
  const held = run.decided?.disposition === 'on-hold';
  if (run.readings.size === 0) return [1, 'There are no readings to suspect.'];
  if (left > 0 && !held) return [0, `${left} pieces with readings that do not count were not measured again.`];
  return [
    1,
    left > 0 ? 'What is suspect was not decided on: the lot is on hold.' : 'Every reading that counts is proven.',
  ];
}

function cause(run: Run, { truth, exercise }: Scored): [number, string] {
  const { named } = run.practised;
  if (!named) return [0, `No cause was named; it was: ${truth.causes.join(', or ')}.`];
  if (!truth.causes.includes(named.cause)) {
    return [0, `“${named.cause}” was named; it was: ${truth.causes.join(', or ')}.`];
  }
  if (exercise.asks === null || truth.which.length === 0) return [1, `“${named.cause}” it was.`];
  if (named.which !== null && truth.which.includes(named.which))
    return [1, `“${named.cause}” it was, at ${exercise.asks} ${named.which}.`];
  return [0.5, `“${named.cause}” it was, but at ${exercise.asks} ${truth.which.join(' or ')}.`];
}

function lot(run: Run, { truth }: Scored): [number, string] {
  const disposition = run.decided?.disposition;
  const right = truth.dispositions.map((one) => WORDS[one]).join(', or ');
  if (disposition && truth.dispositions.includes(disposition))
    return [1, `The lot was ${WORDS[disposition]}, which is right.`];
  return [0, `The lot was ${disposition ? WORDS[disposition] : 'not decided'}; right was: ${right}.`];
}

const WORDS = {
  accepted: 'accepted',
  'not-accepted': 'not accepted',
  'on-hold': 'put on hold',
  studied: 'studied to the end',
} as const;

function time(run: Run, { exercise }: Scored): [number, string] {
  const minutes = (Date.parse(run.decided?.firstAt ?? run.receivedAt) - Date.parse(run.receivedAt)) / 60_000;
  const words = `${Math.max(1, Math.ceil(minutes))} of ${exercise.minutes} minutes.`;
  return [minutes <= exercise.minutes ? 1 : minutes <= LATE * exercise.minutes ? 0.5 : 0, words];
}
