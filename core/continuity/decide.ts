import type { MeterFacts } from '../inspection/event.ts';
import { sameName } from '../inspection/sameName.ts';
import { Problem, problem } from '../problem/problem.ts';
import { CONTINUITY_CAUTIONS } from './continuityCautions.ts';
import {
  areChecksDue,
  areLeadsGood,
  type ContinuityRun,
  continuityOutlook,
  continuityTally,
  isContinuityPractice,
  isProven,
  leadCheckDue,
  pointOf,
  unprovenReadings,
} from './continuityRun.ts';
import type { ContinuityDisposition, ContinuityEvent, ContinuityFacts, ReadBy } from './event.ts';
import { judgePoint, type PointMeasured } from './judgePoint.ts';
import { judgeLeads, LEAD_CHECKS, type LeadCheckName, type LeadShown } from './leadCheck.ts';
import type { Point } from './point.ts';

/** What somebody, or the station for them, wants to be done in a continuity run. */
export type ContinuityCommand =
  | { type: 'receive'; facts: ContinuityFacts }
  | { type: 'connect-meter'; meter: MeterFacts }
  | { type: 'confirm-cautions'; by: string; cautions: readonly string[] }
  | { type: 'check-leads'; by: string; check: LeadCheckName; shown: readonly LeadShown[] }
  | { type: 'lapse'; why: string }
  | { type: 'record-point'; point: number; by: ReadBy; measured: PointMeasured }
  | { type: 'skip-point'; point: number; by: string; reason: string }
  | { type: 'void-reading'; reading: number; by: string; reason: string }
  | { type: 'decide'; disposition: ContinuityDisposition; by: string; reason: string; approvedBy: string | null }
  | { type: 'lift-hold'; by: string; reason: string }
  | { type: 'note-certificate'; file: string; sha256: string };

/**
 * What a command brings about in this run: the events, or the problem that refuses it. Pure; `at` is the time now. `run` is null
 * before it is received.
 */
export function decideContinuity(
  run: ContinuityRun | null,
  command: ContinuityCommand,
  at: string,
): ContinuityEvent[] | Problem {
  try {
    if (command.type === 'receive') {
      if (run) throw problem('run-already-open');
      return [{ type: 'continuity-received', at, facts: command.facts }];
    }
    if (run === null) throw problem('run-unknown', 0);
    return eventsOf(run, command, at);
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown;
    throw thrown;
  }
}

function eventsOf(
  run: ContinuityRun,
  command: Exclude<ContinuityCommand, { type: 'receive' }>,
  at: string,
): ContinuityEvent[] {
  switch (command.type) {
    case 'connect-meter': {
      mustGoOn(run);
      const known = run.meter?.identity.text;
      const found = command.meter.identity.text;
      // Readings of two meters in one run could not be told apart on its certificate.
      if (known !== undefined && known !== found && run.readings.size > 0) throw problem('meter-other', known, found);
      return [{ type: 'continuity-meter-connected', at, meter: command.meter }];
    }
    case 'confirm-cautions': {
      mustGoOn(run);
      if (!run.meter) throw problem('meter-missing');
      const { by, cautions } = command;
      const isAll = CONTINUITY_CAUTIONS.every((caution) => cautions.includes(caution));
      if (!isAll && !(isContinuityPractice(run) && cautions.length > 0)) throw problem('cautions-unconfirmed');
      return [{ type: 'continuity-cautions-confirmed', at, by, cautions: [...cautions] }];
    }
    case 'check-leads': {
      const { by, check, shown } = command;
      mustTakeLeadCheck(run, check);
      const before = {
        measuresVolts: run.meter?.measures.includes('dc-volts') ?? false,
        zeroOhms: run.readings.skip(run.lastGood).find(({ voided, suspect }) => !voided && !suspect)?.zeroOhms ?? null,
      };
      const judged = judgeLeads(check, shown, before);
      return [{ type: 'continuity-leads-checked', at, by, check, shown: [...shown], ...judged }];
    }
    case 'lapse':
      return run.round.length === 0 || isFinal(run) ? [] : [{ type: 'continuity-checks-lapsed', at, why: command.why }];
    case 'record-point': {
      const { point, by, measured } = command;
      const wanted = mustReadPoint(run, point);
      const { raw, said = raw, range } = measured;
      const { limits, zeroOhms, meter } = run;
      // mustReadPoint has seen to both.
      if (!meter || zeroOhms === null) throw problem('run-not-ready');
      const judged = judgePoint(wanted, { raw, range }, { limits, zeroOhms, meter });
      const line = said === raw ? {} : { said };
      const reading = run.readings.size + 1;
      return [{ type: 'continuity-point-read', at, reading, point, by, raw, ...line, range, ...judged }];
    }
    case 'skip-point': {
      mustGoOn(run);
      mustBeUnread(run, command.point);
      mustHaveReason(command.reason);
      const { point, by, reason } = command;
      return [{ type: 'continuity-point-skipped', at, by, point, reason }];
    }
    case 'void-reading': {
      mustGoOn(run);
      const { reading, by, reason } = command;
      const known = Number.isInteger(reading) && reading >= 1 ? run.readings.get(reading - 1) : undefined;
      if (!known) throw problem('reading-unknown', reading);
      if (known.voided) throw problem('reading-voided-already', reading);
      if (known.suspect) throw problem('reading-suspect-already', reading);
      mustHaveReason(reason);
      return [{ type: 'continuity-reading-voided', at, by, reading, reason }];
    }
    case 'decide': {
      mustGoOn(run);
      const { type: _, ...decision } = command;
      mustBeDecidable(run, decision);
      return [{ type: 'continuity-decided', at, ...decision }];
    }
    case 'lift-hold':
      if (run.decided?.disposition !== 'on-hold') throw problem('run-not-on-hold');
      mustHaveReason(command.reason);
      return [{ type: 'continuity-hold-lifted', at, by: command.by, reason: command.reason }];
    case 'note-certificate':
      if (!run.decided) throw problem('run-undecided');
      return [{ type: 'continuity-certificate-written', at, file: command.file, sha256: command.sha256 }];
  }
}

/** Refuses where a check of the leads could not count. The station asks before it troubles the meter. */
export function mustTakeLeadCheck(run: ContinuityRun, check: LeadCheckName): void {
  mustGoOn(run);
  if (!run.meter) throw problem('meter-missing');
  if (!run.cautioned) throw problem('cautions-unconfirmed');
  const due = leadCheckDue(run);
  if (LEAD_CHECKS.indexOf(check) > LEAD_CHECKS.indexOf(due)) throw problem('check-out-of-order', check, due);
}

/** The point, where a reading of it could count; else refuses. The station asks before it troubles the meter. */
export function mustReadPoint(run: ContinuityRun, point: number): Point {
  mustGoOn(run);
  if (!run.meter) throw problem('meter-missing');
  if (!run.cautioned || !areLeadsGood(run)) throw problem('run-not-ready');
  const wanted = mustBeUnread(run, point);
  if (areChecksDue(run)) {
    throw problem('readiness-expired', `${unprovenReadings(run)} readings were taken since they passed`);
  }
  return wanted;
}

function mustBeUnread(run: ContinuityRun, number: number): Point {
  const point = pointOf(run, number);
  if (!point) throw problem('continuity-point-unknown', number);
  if (run.counting.has(number)) throw problem('continuity-point-read-already', number);
  return point;
}

function mustBeDecidable(
  run: ContinuityRun,
  {
    disposition,
    by,
    reason,
    approvedBy,
  }: { disposition: ContinuityDisposition; by: string; reason: string; approvedBy: string | null },
): void {
  const isAsExpected = continuityOutlook(run) === 'as-expected';
  if (approvedBy !== null && (disposition !== 'accepted' || isAsExpected)) throw problem('approval-not-needed');
  if (disposition === 'on-hold') {
    mustHaveReason(reason);
    return;
  }
  const { left } = continuityTally(run);
  if (disposition === 'accepted') {
    if (left > 0) throw problem('continuity-points-left', left);
    if (!isAsExpected) {
      mustHaveReason(reason);
      if (approvedBy === null || approvedBy.trim() === '') throw problem('approval-missing');
      if (sameName(approvedBy, by)) throw problem('approval-by-same-person', by);
    }
  } else if (continuityOutlook(run) !== 'not-as-expected') mustHaveReason(reason);
  if (run.readings.size > 0 && !isProven(run)) throw problem('closing-check-missing');
  if (run.readings.size === 0 && disposition === 'accepted') throw problem('closing-check-missing');
}

function mustHaveReason(reason: string): void {
  if (reason.trim() === '') throw problem('reason-missing');
}

/** Accepted and not accepted end a run; a hold can be lifted. */
function isFinal({ decided }: ContinuityRun): boolean {
  return decided !== null && decided.disposition !== 'on-hold';
}

/** Refuses where nothing more is added to the run. @throws problems run-decided, run-on-hold */
export function mustGoOn(run: ContinuityRun): void {
  if (isFinal(run)) throw problem('run-decided');
  if (run.decided) throw problem('run-on-hold');
}
