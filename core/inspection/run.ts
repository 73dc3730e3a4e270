import type { Map as ImmutableMap, List } from 'immutable';
import type { PracticeAct } from '../practice/practiceAct.ts';
import type { PracticeCause } from '../practice/practiceCause.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { CHECKS, type CheckName, type Found, type Outcome, type ReferenceFacts } from '../readiness/check.ts';
import { isWhole, unproven } from '../readiness/round.ts';
import { turnOf } from '../study/order.ts';
import type { Verdict } from '../window/judge.ts';
import type { Correctable, Disposition, InspectionEvent, LotFacts, MeterFacts } from './event.ts';
import { outlook } from './outlook.ts';
import { positionToTake } from './positionTaken.ts';
import type { Readings } from './readings.ts';
import type { Tally } from './tally.ts';

/** One reading of a run as it stands now. */
export interface Reading {
  reading: number;
  piece: number;
  /** Where along the reel the piece was taken, from 1; null where that is not known. */
  position: number | null;
  at: string;
  raw: string;
  /** Exact value: the zero subtracted, brought to the reference temperature; null for the meter's overload. */
  ohms: DecimalText | null;
  zeroOhms: DecimalText;
  temperatureOhms: DecimalText;
  uncertainty: Uncertainty | null;
  verdict: Verdict;
  /** Set when the reading does not count, and why. It stays in the record. */
  voided: { by: string; reason: string; at: string } | null;
  /** Set when the reading does not count because a later check failed, and which. Its piece is measured again. */
  suspect: { why: string; at: string } | null;
}

/** Expanded uncertainty of a value, ± ohms, and the coverage factor it was made with. */
export interface Uncertainty {
  expandedOhms: DecimalText;
  coverageFactor: DecimalText;
}

/** Whether a reading counts: neither made void nor suspect. */
export function counts(reading: Pick<Reading, 'voided' | 'suspect'>): boolean {
  return reading.voided === null && reading.suspect === null;
}

/** Whether a run is practice on the simulated bench; an exercise is before any meter is there. */
export function isPractice({ meter, practice }: Pick<Run, 'meter' | 'practice'>): boolean {
  return practice !== null || (meter?.identity.simulated ?? false);
}

/** How a lot was decided; `approvedBy` is the second person who answers for accepting it against its plan. */
export interface Decided {
  disposition: Disposition;
  by: string;
  at: string;
  reason: string;
  approvedBy: string | null;
  /** When it was decided before any correction: what its readings rest on is judged as it stood then. */
  firstAt: string;
}

/** Somebody confirmed that the bench was ready and the cautions kept. */
export interface BenchConfirmation {
  by: string;
  at: string;
  cautions: string[];
}

/** A check of the bench that was done. */
export interface BenchCheck {
  check: CheckName;
  outcome: Outcome;
  /** How it came out, in words and figures. */
  why: string;
  at: string;
  by: string;
  found: readonly Found[];
  reference: ReferenceFacts | null;
  zeroOhms: DecimalText | null;
}

/** What happened at the bench beside readings. `afterReading` is how many readings had been taken before it. */
export type Happening = { afterReading: number } & (
  | { kind: 'meter'; at: string; meter: MeterFacts }
  | ({ kind: 'confirmed' } & BenchConfirmation)
  | ({ kind: 'check' } & BenchCheck)
  | { kind: 'lapsed'; at: string; why: string }
  | { kind: 'override'; at: string; by: string; reason: string }
  | { kind: 'voided'; at: string; by: string; reason: string; reading: number }
  | { kind: 'held'; at: string; by: string; reason: string }
  | { kind: 'hold-lifted'; at: string; by: string; reason: string }
  /** The decision that was, and what it became. */
  | { kind: 'decision-corrected'; was: Decided; is: Decided }
  | { kind: 'fact-corrected'; at: string; by: string; reason: string; fact: Correctable; was: string; is: string }
);

/** A reference resistor as it was measured in a check. */
export interface ReferenceShown {
  /** How many readings had been taken before it. */
  afterReading: number;
  at: string;
  name: string;
  ohms: DecimalText;
  uncertaintyOhms: DecimalText;
  /** What the meter showed, the zero subtracted; never empty. */
  measuredOhms: readonly DecimalText[];
  /** What the last digit of the meter was worth. */
  resolutionOhms: DecimalText;
  /** Whether the check passed. */
  passed: boolean;
  /** E_n number of meter and reference; null where it cannot be given. */
  en: number | null;
}

/** How far readings of one thing scattered. */
export interface Scatter {
  /** Sum of squares about their means, in ohms². */
  squares: number;
  degreesOfFreedom: number;
  /** Value of what was read. */
  atOhms: DecimalText;
}

/** A run as its events have made it. */
export interface Run extends LotFacts {
  receivedAt: string;
  meter: MeterFacts | null;
  /** The confirmation that holds now; null when the meter was connected anew since. */
  benchConfirmed: BenchConfirmation | null;
  /** Checks that have passed in the present round, in order: a beginning of CHECKS, or all of it. */
  round: readonly CheckName[];
  /** When the first check of the present round passed; null before. */
  roundBegan: string | null;
  /** How many readings had been taken when the last whole round was completed; readings after that are not proven yet. */
  lastGood: number;
  /** What shorted leads showed last (median); null before. */
  shortedOhms: DecimalText | null;
  /** All that the shorted leads showed last. */
  shortedReadings: readonly DecimalText[];
  /** The reference resistors as the present meter read them, in order; one that was waived is not among them. */
  references: readonly ReferenceShown[];
  /** The reference that passed last; null where the last check did without one. */
  reference: ReferenceShown | null;
  /** Of all readings of the last reference with the present setting together. */
  scatter: Scatter;
  /** What is subtracted from readings: `shortedOhms` in 2-wire, 0 in 4-wire. */
  zeroOhms: DecimalText;
  /** Ambient temperature that was found last; null before. */
  ambientCelsius: DecimalText | null;
  /** Who overrode the calibration of the meter that is connected now. */
  overridden: { by: string; at: string; reason: string } | null;
  /** Everything that happened at the bench beside readings, in order. */
  history: List<Happening>;
  readings: Readings;
  tally: Tally;
  /** Where along the reel pieces were taken whose reading counts, and which; empty where positions are not known. */
  taken: ImmutableMap<number, number>;
  /** Where somebody says that a piece is taken which is not measured yet; null where all are taken where they are asked for. */
  said: { piece: number; position: number } | null;
  /** Pieces whose reading was voided or is suspect and that are to be measured again, in order. */
  again: readonly number[];
  /** Why no reading can be taken now; null while all is well. */
  interrupted: { why: string; at: string } | null;
  decided: Decided | null;
  certificates: readonly { file: string; sha256: string; at: string }[];
  /** What was done of the exercise, where the run is one. */
  practised: Practised;
}

/** What was done in an exercise: at the bench, the cause that was named last, and its points once they are given. */
export interface Practised {
  /** `afterReading` is how many readings had been taken before it. */
  acts: readonly { act: PracticeAct; afterReading: number }[];
  named: { cause: PracticeCause; which: number | null } | null;
  scored: Omit<Extract<InspectionEvent, { type: 'exercise-scored' }>, 'type'> | null;
}

/** The step of the job a run has come to. */
export type Step = 'ready' | 'measure' | 'decide' | 'certify';

/**
 * The check that is due now; null while readings may go on under the round there is, or the lot may be decided.
 * Due are: the rest of a round that is not whole; a new round after as many readings as the lot asks for; a closing
 * round when the plan needs no further piece and there are readings since the last whole round. That a round holds no
 * longer by time is seen when something is asked of it (`staleness` in core/readiness/round.ts).
 */
export function checkDue(run: Run): CheckName | null {
  if (!isWhole(run)) return CHECKS[run.round.length] ?? null;
  if (unproven(run) >= run.checks.everyReadings) return CHECKS[0];
  return outlook(run) !== 'undecided' && unproven(run) > 0 ? CHECKS[0] : null;
}

/**
 * Which step comes next. `ready` wherever checks are due: before the first reading, after as many readings as the lot
 * asks for, and before the lot is decided. A lot on hold is at `certify`, as any decided lot.
 */
export function stepOf(run: Run): Step {
  if (run.decided) return 'certify';
  if (checkDue(run) !== null) return 'ready';
  if (outlook(run) !== 'undecided') return 'decide';
  return run.meter && run.benchConfirmed ? 'measure' : 'ready';
}

/**
 * Number of the piece to be measured next: one to be repeated, else the next new one. In a study it numbers the turns, each
 * of which has its piece, operator and repeat (core/study/order.ts).
 */
export function nextPiece(run: Pick<Run, 'again' | 'tally'>): number {
  return run.again[0] ?? run.tally.counted + 1;
}

/** Where along the reel the next piece is taken: where somebody says, else where it is asked for; null where positions are not known. */
export function nextPosition(run: Run): number | null {
  return positionToTake(run, nextPiece(run));
}

/**
 * The piece that is to be put on the probes next, as it is numbered on the bench: by where it is taken along the reel, in a study
 * that of the next turn.
 */
export function pieceToPlace(run: Run): number {
  const { choice } = run.plan;
  if (choice.kind === 'study') return turnOf(choice, nextPiece(run)).piece;
  return nextPosition(run) ?? nextPiece(run);
}
