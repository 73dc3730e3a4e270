import { calibrationAt } from '../accuracy/calibration.ts';
import type { PracticeAct } from '../practice/practiceAct.ts';
import type { PracticeCause } from '../practice/practiceCause.ts';
import { Problem, problem } from '../problem/problem.ts';
import { meterNumber } from '../quantity/meterNumber.ts';
import type { CheckName, ReferenceFacts, Shown } from '../readiness/check.ts';
import { judgeCheck } from '../readiness/judgeCheck.ts';
import { isProven, mustBeItsTurn, mustBeReady } from '../readiness/round.ts';
import type { Measured } from '../window/judge.ts';
import { CAUTIONS } from './cautions.ts';
import type { Correctable, Disposition, InspectionEvent, LotFacts, MeterFacts } from './event.ts';
import { judgeReading } from './judgeReading.ts';
import { type Outlook, outlook, wantedPieces } from './outlook.ts';
import { positionTaken } from './positionTaken.ts';
import { nextPiece, type Run } from './run.ts';
import { sameName } from './sameName.ts';

/** What somebody, or the station for them, wants to be done in a run. */
export type Command =
  | { type: 'receive-lot'; facts: LotFacts }
  | { type: 'connect-meter'; meter: MeterFacts }
  | { type: 'confirm-bench'; by: string; cautions: string[] }
  /** `shown` is all that was read, said or typed for this check; `reference` what was measured by the check `reference`. */
  | { type: 'check-bench'; by: string; check: CheckName; shown: readonly Shown[]; reference: ReferenceFacts | null }
  | { type: 'expire-readiness'; why: string }
  | { type: 'override-calibration'; by: string; reason: string }
  /**
   * Its value is what the meter's very text says, since a certificate is verified from that text. `position` is where along the
   * reel the piece was really taken; where it was asked for where it is left out or null.
   */
  | { type: 'record-reading'; measured: { raw: string; said?: string }; position?: number | null }
  /** Where the next piece is really taken; null for where it was asked for. `piece` is the one that is meant, where it may not be the next by now. */
  | { type: 'say-position'; position: number | null; piece?: number | undefined }
  | { type: 'void-reading'; reading: number; by: string; reason: string }
  | { type: 'interrupt'; why: string }
  | { type: 'continue' }
  /** `approvedBy`: a second person, without whom no lot is accepted against its plan. */
  | { type: 'decide-lot'; disposition: Disposition; by: string; reason: string; approvedBy?: string | null | undefined }
  /** A lot that was accepted or not accepted is decided otherwise. */
  | {
      type: 'correct-decision';
      disposition: Exclude<Disposition, 'studied'>;
      by: string;
      reason: string;
      approvedBy?: string | null | undefined;
    }
  | { type: 'correct-fact'; fact: Correctable; is: string; by: string; reason: string }
  | { type: 'lift-hold'; by: string; reason: string }
  | { type: 'note-certificate'; file: string; sha256: string }
  | { type: 'act-at-bench'; act: PracticeAct }
  | { type: 'name-cause'; cause: PracticeCause; which: number | null }
  | ({ type: 'score-exercise' } & Omit<NonNullable<Run['practised']['scored']>, 'at'>);

/**
 * What a command brings about in this run: the events, or the problem that refuses it. Pure; `at` is the time now.
 * `run` is null before the lot is received.
 */
export function decide(run: Run | null, command: Command, at: string): InspectionEvent[] | Problem {
  try {
    if (command.type === 'receive-lot') {
      if (run) throw problem('run-already-open');
      return [{ type: 'lot-received', at, facts: command.facts }];
    }
    if (run === null) throw problem('run-unknown', 0);
    return eventsOf(run, command, at);
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown;
    throw thrown;
  }
}

function eventsOf(run: Run, command: Exclude<Command, { type: 'receive-lot' }>, at: string): InspectionEvent[] {
  switch (command.type) {
    case 'connect-meter': {
      mustBeOpen(run);
      // Nothing of an exercise may pass for readings of real pieces.
      if (run.practice && !command.meter.identity.simulated) throw problem('practice-needs-bench');
      const known = run.meter?.identity.text;
      const found = command.meter.identity.text;
      // Readings of two meters in one run could not be told apart on its certificate.
      if (known !== undefined && known !== found && run.readings.size > 0) throw problem('meter-other', known, found);
      return [{ type: 'meter-connected', at, meter: command.meter }];
    }
    case 'confirm-bench':
      mustBeOpen(run);
      mustNotBeOnHold(run);
      if (!run.meter) throw problem('meter-missing');
      if (!areConfirmed(run.meter, command.cautions)) throw problem('cautions-unconfirmed');
      return [{ type: 'bench-confirmed', at, by: command.by, cautions: command.cautions }];
    case 'check-bench': {
      const { by, check, shown } = command;
      const { meter } = run;
      if (!meter) throw problem('meter-missing');
      mustTakeCheck(run, check, at);
      const reference = check === 'reference' ? command.reference : null;
      const judged = judgeCheck({ ...run, meter }, check, shown, reference, at);
      return [{ type: 'bench-checked', at, by, check, reference, ...judged }];
    }
    case 'expire-readiness':
      return run.round.length === 0 || isFinal(run) ? [] : [{ type: 'readiness-expired', at, why: command.why }];
    case 'override-calibration': {
      mustBeOpen(run);
      mustNotBeOnHold(run);
      if (!run.meter) throw problem('meter-missing');
      if (command.reason === '') throw problem('reason-missing');
      if (calibrationAt(run.meter, at).state === 'in-date') throw problem('calibration-in-date');
      return [{ type: 'calibration-overridden', at, by: command.by, reason: command.reason }];
    }
    case 'record-reading': {
      mustTakeReadings(run, at);
      const { raw, said = raw } = command.measured;
      const judged = judgeReading(run, measuredBy(raw), at);
      // A study with it would end without a figure, and look as if it had been done.
      const piece = nextPiece(run);
      if (run.plan.choice.kind === 'study' && judged.ohms === null) throw problem('study-piece-open', piece);
      const position = positionTaken(run, piece, command.position ?? null);
      const reading = run.readings.size + 1;
      const line = said === raw ? {} : { said };
      return [{ type: 'reading-taken', at, reading, piece, position, raw, ...line, ...judged }];
    }
    case 'say-position': {
      mustBeOpen(run);
      mustNotBeOnHold(run);
      if (outlook(run) !== 'undecided') throw problem('sample-complete');
      const piece = nextPiece(run);
      const meant = command.piece ?? piece;
      if (meant !== piece) throw problem('position-of-another-piece', meant, piece);
      const position = command.position === null ? null : positionTaken(run, piece, command.position);
      return [{ type: 'position-said', at, piece, position }];
    }
    case 'void-reading': {
      mustBeOpen(run);
      mustNotBeOnHold(run);
      const known = Number.isInteger(command.reading) && command.reading >= 1;
      const reading = known ? run.readings.get(command.reading - 1) : undefined;
      if (!reading) throw problem('reading-unknown', command.reading);
      if (reading.voided) throw problem('reading-voided-already', command.reading);
      if (reading.suspect) throw problem('reading-suspect-already', command.reading);
      if (command.reason === '') throw problem('reason-missing');
      return [{ type: 'reading-voided', at, by: command.by, reading: command.reading, reason: command.reason }];
    }
    case 'interrupt':
      return run.interrupted || isFinal(run) ? [] : [{ type: 'run-interrupted', at, why: command.why }];
    case 'continue':
      return run.interrupted ? [{ type: 'run-continued', at }] : [];
    case 'decide-lot': {
      mustBeOpen(run);
      mustNotBeOnHold(run);
      const { disposition, by, reason } = command;
      const approvedBy = command.approvedBy ?? null;
      mustBeDecidable(run, { disposition, by, reason, approvedBy }, at);
      return [{ type: 'lot-decided', at, by, disposition, reason, approvedBy }];
    }
    case 'correct-decision': {
      const { disposition, by, reason } = command;
      const approvedBy = command.approvedBy ?? null;
      const was = run.decided;
      if (was === null || !isFinal(run) || was.disposition === 'studied') throw problem('nothing-to-correct');
      if (reason === '') throw problem('reason-missing');
      if (was.disposition === disposition && was.approvedBy === approvedBy) throw problem('correction-changes-nothing');
      // The readings were proven when the lot was decided.
      mustBeDecidable(run, { disposition, by, reason, approvedBy }, was.firstAt);
      return [{ type: 'decision-corrected', at, by, disposition, reason, approvedBy }];
    }
    case 'correct-fact': {
      const { fact, by, reason } = command;
      const [was, is] = [factOf(run, fact), command.is.trim()];
      if (reason === '') throw problem('reason-missing');
      if (was === is) throw problem('correction-changes-nothing');
      if (fact === 'lot number' && is === '') throw problem('lot-number-missing');
      return [{ type: 'facts-corrected', at, by, fact, was, is, reason }];
    }
    case 'lift-hold':
      if (run.decided?.disposition !== 'on-hold') throw problem('run-not-on-hold');
      if (command.reason === '') throw problem('reason-missing');
      return [{ type: 'hold-lifted', at, by: command.by, reason: command.reason }];
    case 'note-certificate':
      if (!run.decided) throw problem('run-undecided');
      return [{ type: 'certificate-written', at, file: command.file, sha256: command.sha256 }];
    case 'act-at-bench':
      mustActAtBench(run);
      return [{ type: 'bench-acted', at, act: command.act }];
    case 'name-cause': {
      mustBeInExercise(run);
      const { cause, which } = command;
      return [{ type: 'cause-named', at, cause, which }];
    }
    case 'score-exercise': {
      mustBeInExercise(run);
      if (!run.decided) throw problem('exercise-undecided');
      const { type, ...scored } = command;
      return [{ type: 'exercise-scored', at, ...scored }];
    }
  }
}

/** Refuses an act at the bench that would come too late, or to no exercise. The station asks before it changes the bench. */
export function mustActAtBench(run: Run): void {
  mustBeInExercise(run);
  mustBeOpen(run);
}

/** @throws problems no-exercise, exercise-over */
function mustBeInExercise({ practice, practised }: Run): void {
  if (!practice) throw problem('no-exercise');
  if (practised.scored) throw problem('exercise-over');
}

/** Every caution by itself; on the simulated bench, where nothing real is connected, that it is one. */
function areConfirmed(meter: MeterFacts, cautions: readonly string[]): boolean {
  return meter.identity.simulated ? cautions.length > 0 : CAUTIONS.every((caution) => cautions.includes(caution));
}

interface Decision {
  disposition: Disposition;
  by: string;
  reason: string;
  approvedBy: string | null;
}

/**
 * Refuses a disposition that does not follow from the plan, unless it is answered for: not accepting a lot that may be accepted needs a
 * reason, accepting one that may not needs a reason and a second person.
 * @throws problems reason-missing, approval-missing, approval-by-same-person, approval-not-needed, decision-against-plan,
 *   study-decides-no-lot, study-unfinished, not-a-study; those of mustBeProven
 */
function mustBeDecidable(run: Run, decision: Decision, at: string): void {
  const { disposition, reason, approvedBy } = decision;
  const isAgainst = isAcceptedAgainstPlan(run, disposition);
  if (approvedBy !== null && !isAgainst) throw problem('approval-not-needed');
  if (disposition === 'on-hold') {
    if (reason === '') throw problem('reason-missing');
    return;
  }
  if (isAgainst) mustBeApproved(decision);
  else mustBeAsPlanned(run, disposition, reason);
  mustBeProven(run, at);
}

/** Whether a lot that its plan does not accept is accepted all the same. */
export function isAcceptedAgainstPlan(run: Run, disposition: Disposition): boolean {
  return disposition === 'accepted' && outlook(run) === 'not-accept';
}

function mustBeApproved({ by, reason, approvedBy }: Decision): void {
  if (reason === '') throw problem('reason-missing');
  if (approvedBy === null || approvedBy.trim() === '') throw problem('approval-missing');
  if (sameName(approvedBy, by)) throw problem('approval-by-same-person', by);
}

const PLANNED: Record<Outlook, Disposition | null> = {
  accept: 'accepted',
  'not-accept': 'not-accepted',
  studied: 'studied',
  undecided: null,
};

/** @throws problems decision-against-plan, reason-missing, study-decides-no-lot, study-unfinished, not-a-study */
function mustBeAsPlanned(run: Run, disposition: Exclude<Disposition, 'on-hold'>, reason: string): void {
  const isStudy = run.plan.choice.kind === 'study';
  if (isStudy && disposition !== 'studied') throw problem('study-decides-no-lot');
  if (!isStudy && disposition === 'studied') throw problem('not-a-study');
  const planned = PLANNED[outlook(run)];
  if (disposition === planned) return;
  if (isStudy) throw problem('study-unfinished', wantedPieces(run) - run.tally.counted);
  if (disposition === 'not-accepted' && planned === 'accepted') {
    if (reason === '') throw problem('reason-missing');
    return;
  }
  throw problem('decision-against-plan', disposition === 'accepted' ? 'accepted' : 'refused');
}

function factOf({ lot, part }: Run, fact: Correctable): string {
  switch (fact) {
    case 'lot number':
      return lot.number;
    case 'supplier':
      return lot.supplier;
    case 'reel':
      return lot.reel;
    case 'description':
      return part.description;
  }
}

/** Accepted, not accepted and studied end a run; a hold can be lifted. */
function isFinal(run: Run): boolean {
  return run.decided !== null && run.decided.disposition !== 'on-hold';
}

/** Refuses where the run is closed: nothing more is added to it. */
export function mustBeOpen(run: Run): void {
  if (isFinal(run)) throw problem('run-decided');
}

function mustNotBeOnHold(run: Run): void {
  if (run.decided) throw problem('run-on-hold');
}

/**
 * Refuses a lot whose readings nothing stands behind at the time it is decided.
 * @throws problems closing-check-missing, calibration-overdue, calibration-unknown
 */
export function mustBeProven(run: Run, at: string): void {
  if (!run.meter || !isProven(run)) throw problem('closing-check-missing');
  if (run.overridden) return;
  const calibration = calibrationAt(run.meter, at);
  if (calibration.state === 'overdue') throw problem('calibration-overdue', calibration.why);
  if (calibration.state === 'unknown') throw problem('calibration-unknown');
}

/**
 * Refuses where a reading could not count. The station asks before it troubles the meter.
 * @param at the time now
 */
export function mustTakeReadings(run: Run, at: string): void {
  mustBeOpen(run);
  mustNotBeOnHold(run);
  if (run.interrupted) throw problem('run-interrupted');
  if (!run.meter || !run.benchConfirmed) throw problem('run-not-ready');
  if (outlook(run) !== 'undecided') throw problem('sample-complete');
  mustBeReady(run, at);
}

/**
 * Refuses where a check could not count. The station asks before it troubles the meter.
 * @param at the time now
 */
export function mustTakeCheck(run: Run, check: CheckName, at: string): void {
  mustBeOpen(run);
  mustNotBeOnHold(run);
  if (run.interrupted) throw problem('run-interrupted');
  mustBeItsTurn(run, check, at);
}

/** What the meter's text says. @throws problems answer-unreadable, answer-not-a-number */
function measuredBy(raw: string): Measured {
  const number = meterNumber(raw);
  if (number === null) throw problem('answer-unreadable', 'the question for a reading', raw);
  if (number.kind === 'not-a-number') throw problem('answer-not-a-number', 'the question for a reading');
  return number.kind === 'overload' ? { kind: 'overload', raw } : { kind: 'value', ohms: number.text, raw };
}
