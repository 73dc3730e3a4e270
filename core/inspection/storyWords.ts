import { calibrationAt } from '../accuracy/calibration.ts';
import { counted, formatCount } from '../quantity/formatCount.ts';
import { formatOhms, resolutionOfRaw } from '../quantity/formatOhms.ts';
import { sentence } from '../quantity/sentence.ts';
import { planSentence, planSource } from '../sampling/planWords.ts';
import type { PositionsChoice } from '../sampling/positions.ts';
import type { DecisionRule } from '../window/decisionRule.ts';
import type { Verdict } from '../window/judge.ts';
import { formatTolerance } from '../window/parseTolerance.ts';
import { isAcceptedAgainstPlan } from './decide.ts';
import type { Disposition, InspectionEvent, LotFacts } from './event.ts';
import { outlook } from './outlook.ts';
import type { Decided, Reading, Run } from './run.ts';
import { outlookSentence, severitySource } from './standingWords.ts';

/** The event of one type. */
export type EventOf<T extends InspectionEvent['type']> = Extract<InspectionEvent, { type: T }>;

/** How a reading came out, behind a count or a value. */
export const VERDICT_SAID: Record<Verdict, string> = {
  pass: 'pass',
  'conditional-pass': 'pass on condition',
  'conditional-fail-low': 'fail low on condition',
  'conditional-fail-high': 'fail high on condition',
  'fail-low': 'fail low',
  'fail-high': 'fail high',
  open: 'open',
};

const DISPOSITION_SAID: Record<Disposition, string> = {
  accepted: 'accepted',
  'not-accepted': 'not accepted',
  'on-hold': 'on hold',
  studied: 'studied',
};

/** A resistance whose figure and unit stay on one line. */
export function ohmsSaid(ohms: string, resolutionOhms: string | null = null): string {
  return formatOhms(ohms, resolutionOhms === null ? {} : { resolutionOhms }).replace(' ', '\u00a0');
}

/** What a reading showed, to the last digit the meter gave, with its expanded uncertainty: `4.7021 kΩ ±0.97 Ω`. */
export function valueSaid({ ohms, raw, uncertainty }: Pick<Reading, 'ohms' | 'raw' | 'uncertainty'>): string {
  if (ohms === null) return 'overload';
  const value = ohmsSaid(ohms, resolutionOfRaw(raw));
  return uncertainty === null ? value : `${value} ±${ohmsSaid(uncertainty.expandedOhms)}`;
}

/** What came in and how it is to be inspected: who says it, and each as a sentence or two. */
export function receivedWords(facts: LotFacts): { by: string; words: string }[] {
  const { inspector: by, lot, plan, switching } = facts;
  const lines = [
    { by, words: lotSentence(facts) },
    { by, words: `${planSentence(plan, lot.size)} ${sentence(planSource(plan))}` },
  ];
  const severity = severitySource(facts);
  if (severity !== null) lines.push({ by: switching?.override?.by ?? by, words: severity });
  if (lot.offeredAgainAfter !== null) {
    const words = `The lot is offered again: it was decided before, in run ${lot.offeredAgainAfter}. For switching it does not count.`;
    lines.push({ by, words });
  }
  return [...lines, { by, words: termsSentence(facts) }];
}

function lotSentence({ part, lot, plan, window }: LotFacts): string {
  const described = part.description === '' ? '' : ` (${part.description})`;
  const from = lot.supplier === '' ? '' : ` from ${lot.supplier}`;
  const reel = lot.reel === '' ? '' : `, reel ${lot.reel}`;
  const what =
    plan.choice.kind === 'study'
      ? `A study of the measurement with part ${part.number}${described} was begun`
      : `Lot ${lot.number} of part ${part.number}${described}${from}${reel} was received, ${counted(lot.size, 'piece', 'pieces')}`;
  const tolerance = formatTolerance(part.tolerance);
  const claimed = part.nominal === null ? tolerance : `${ohmsSaid(part.nominal)} ${tolerance}`;
  return `${what}. Claimed: ${claimed}; a piece passes ${windowSaid(window)}.`;
}

function windowSaid({ lower, upper }: LotFacts['window']): string {
  if (lower === null) return `up to ${ohmsSaid(upper ?? '0')}`;
  return upper === null ? `from ${ohmsSaid(lower)} up` : `from ${ohmsSaid(lower)} to ${ohmsSaid(upper)}`;
}

function termsSentence({ decision, measurement, positions, plan, checks }: LotFacts): string {
  const terms = [
    `${measurement.method}`,
    ruleSaid(decision),
    ...(plan.choice.kind === 'study' || plan.everyPiece ? [] : [positionsSaid(positions)]),
    `checks of the bench due after ${counted(checks.everyReadings, 'reading', 'readings')} or ${counted(checks.everyMinutes, 'minute', 'minutes')}`,
  ];
  return `Terms: ${terms.join('; ')}.`;
}

function ruleSaid({ rule, guardFactor }: DecisionRule): string {
  switch (rule) {
    case 'simple-acceptance':
      return 'simple acceptance';
    case 'guard-band':
      return `guard bands of ${guardFactor} U`;
    case 'non-binary':
      return `guard bands of ${guardFactor} U with conditional verdicts`;
  }
}

function positionsSaid(positions: PositionsChoice): string {
  switch (positions.kind) {
    case 'random':
      return `positions along the reel drawn at random, seed ${positions.seed}`;
    case 'spread':
      return 'pieces from beginning, middle and end of the reel';
    case 'as-taken':
      return 'pieces as they come, positions not noted';
  }
}

/** Which meter, how it was set, and how its calibration stood. */
export function meterWords({ meter, at }: EventOf<'meter-connected'>): string {
  const { identity, setting } = meter;
  const range = setting.rangeOhms === null ? 'the range of its own choice' : `range ${ohmsSaid(setting.rangeOhms)}`;
  const practice = identity.simulated ? ' It is the simulated bench: practice, no inspection.' : '';
  const hand = meter.setByHand ? ', set by hand' : '';
  return `The meter ${identity.text} was connected: ${setting.function}, ${range}${hand}.${practice} ${sentence(calibrationAt(meter, at).why)}`;
}

/** Why a reading does not count, and which it was. */
export function voidWords(run: Run, { reading: number, reason }: EventOf<'reading-voided'>): string {
  const reading = run.readings.get(number - 1);
  const which = reading ? ` of piece ${formatCount(reading.piece)} (${valueSaid(reading)})` : '';
  return `${sentence(`Reading ${formatCount(number)}${which} was made void: ${reason}`)} Its piece is measured again.`;
}

/** How the lot was decided, and what its plan said. @param run as it was before */
export function decidedWords(run: Run, { disposition, reason, approvedBy }: EventOf<'lot-decided'>): string {
  const plan = `The plan: ${outlookSentence(run)}`;
  if (isAcceptedAgainstPlan(run, disposition)) {
    return `${sentence(`Accepted against the plan; ${approvedBy} answers for it as well: ${reason}`)} ${plan}`;
  }
  switch (disposition) {
    case 'accepted':
      return `${sentence(`Accepted, as the plan says${because(reason)}`)} ${plan}`;
    case 'not-accepted':
      return outlook(run) === 'accept'
        ? `${sentence(`Not accepted although the plan would accept it: ${reason}`)} ${plan}`
        : `${sentence(`Not accepted, as the plan says${because(reason)}`)} ${plan}`;
    case 'on-hold':
      return `${sentence(`Put on hold: ${reason}`)} ${plan}`;
    case 'studied':
      return `${sentence(`The study was closed${because(reason)}`)} ${outlookSentence(run)}`;
  }
}

/** What a decision was and what it became. @param run as it was before */
export function correctedWords(run: Run, event: EventOf<'decision-corrected'>): string {
  const was = run.decided;
  const before = was === null ? '' : `It was: ${dispositionSaid(was)}, by ${was.by} at ${was.at}${because(was.reason)}`;
  const against = isAcceptedAgainstPlan(run, event.disposition) ? ', against the plan' : '';
  const now = `It is: ${dispositionSaid(event)}${against}: ${event.reason}`;
  return ['The decision was corrected', before, now].filter(Boolean).map(sentence).join(' ');
}

function dispositionSaid({ disposition, approvedBy }: Pick<Decided, 'disposition' | 'approvedBy'>): string {
  const second = approvedBy === null ? '' : `, for which ${approvedBy} answers as well`;
  return `${DISPOSITION_SAID[disposition]}${second}`;
}

/** What was typed wrong, what it was and what it is. */
export function factWords({ fact, was, is, reason }: EventOf<'facts-corrected'>): string {
  return sentence(`The ${fact} was corrected from ${quoted(was)} to ${quoted(is)}: ${reason}`);
}

function quoted(text: string): string {
  return text === '' ? 'nothing' : `“${text}”`;
}

function because(reason: string): string {
  // The command line gives it where nobody gave a reason.
  return reason === '' || reason === 'as the plan says' ? '' : `: ${reason}`;
}

/** That a certificate was written, and whether it is the first, another one after something changed, or the same once more. */
export function certificateWords(
  { certificates }: Pick<Run, 'certificates'>,
  { file, sha256 }: EventOf<'certificate-written'>,
  hasChanged: boolean,
): string {
  const again = certificates.length === 0 ? '' : hasChanged ? ' anew, after what was changed' : ' again, a reprint';
  return `The certificate was written${again}: ${file}, SHA-256 ${sha256}.`;
}
