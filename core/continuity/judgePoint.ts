import Big from 'big.js';
import { rangeHolding, rangeOf, rangesFor } from '../accuracy/chooseRange.ts';
import { limitOfError } from '../accuracy/limitOfError.ts';
import type { MeterData } from '../accuracy/meterData.ts';
import type { MeterFacts } from '../inspection/event.ts';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain, subtract } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { meterNumber } from '../quantity/meterNumber.ts';
import { LEAD_CHANGE_OHMS } from './leadCheck.ts';
import type { ContinuityLimits } from './limits.ts';
import type { Point } from './point.ts';

/** How a pair was found: `between` conducts too badly to be closed and too well to be open. */
export const FOUND = ['closed', 'between', 'open', 'unsure'] as const;
export type FoundState = (typeof FOUND)[number];

export const POINT_VERDICTS = ['as-expected', 'not-as-expected', 'cannot-tell'] as const;
export type PointVerdict = (typeof POINT_VERDICTS)[number];

/** Why a point is not as expected, or why that cannot be told. */
export const POINT_REASONS = [
  'no-connection',
  'high-resistance',
  'cross-connection',
  'neither-open-nor-closed',
  'near-the-limit',
  'range-too-small',
  'below-zero',
] as const;
export type PointReason = (typeof POINT_REASONS)[number];

/** What the meter showed of a point: its very text, and on which range: the one it was set to, or one it chose itself. */
export interface PointMeasured {
  raw: string;
  said?: string | undefined;
  range: 'set' | 'automatic';
}

/** What a reading of a point comes to. */
export interface PointJudged {
  /** The zero of the leads subtracted; null for overload. */
  ohms: DecimalText | null;
  zeroOhms: DecimalText;
  /** By how much the value may be wrong, ± ohms; for overload 0. */
  doubtOhms: DecimalText;
  found: FoundState;
  verdict: PointVerdict;
  reason: PointReason | null;
}

export interface JudgedWith {
  limits: ContinuityLimits;
  zeroOhms: DecimalText;
  meter: Pick<MeterFacts, 'setting' | 'data'>;
}

/** Taken where nobody entered the accuracy of the meter: ±(2 % of the reading + 5 digits), more than hand-held meters usually err. */
export const ASSUMED_PERCENT = '2';
export const ASSUMED_DIGITS = 5;

/**
 * Judges one reading. It is compared with its limit only as far as it can be told: where the limit lies within what the meter and
 * the leads may be wrong by, all in the same direction, the verdict is `cannot-tell`. Overload is open only where the range it
 * showed on reaches to the limit.
 * @throws problems answer-unreadable, answer-not-a-number
 */
export function judgePoint(
  { expected, limitOhms }: Pick<Point, 'expected' | 'limitOhms'>,
  { raw, range }: Pick<PointMeasured, 'raw' | 'range'>,
  { limits, zeroOhms, meter }: JudgedWith,
): PointJudged {
  const number = meterNumber(raw);
  if (number === null) throw problem('answer-unreadable', 'the question for a reading', raw);
  if (number.kind === 'not-a-number') throw problem('answer-not-a-number', 'the question for a reading');
  const closedBelow = expected === 'closed' && limitOhms !== null ? limitOhms : limits.closedBelowOhms;
  const openAbove = expected === 'open' && limitOhms !== null ? limitOhms : limits.openAboveOhms;
  if (number.kind === 'overload') {
    const rest = { ohms: null, zeroOhms, doubtOhms: '0' };
    // Below zero it is no resistance that is too high, it is a voltage.
    if (raw.trimStart().startsWith('-')) return { ...rest, ...unsure('below-zero') };
    const reaches = rangeReach(range, meter);
    if (reaches === null || reaches.gte(openAbove)) return { ...rest, ...outcome(expected, 'open') };
    if (expected === 'closed' && reaches.gte(closedBelow)) return { ...rest, ...outcome('closed', 'between') };
    return { ...rest, ...unsure('range-too-small') };
  }
  const ohms = subtract(number.text, zeroOhms);
  const doubt = doubtOf(raw, number.text, range, meter);
  const judged = { ohms, zeroOhms, doubtOhms: plain(doubt) };
  const value = new Big(ohms);
  const [least, most] = [value.minus(doubt), value.plus(doubt)];
  if (most.lt(0)) return { ...judged, ...unsure('below-zero') };
  if (most.lt(closedBelow)) return { ...judged, ...outcome(expected, 'closed') };
  if (least.gt(openAbove)) return { ...judged, ...outcome(expected, 'open') };
  if (least.gte(closedBelow) && most.lte(openAbove)) return { ...judged, ...outcome(expected, 'between') };
  // What of the two it is cannot be told, but that it is not what was expected can.
  const isNot = expected === 'closed' ? least.gte(closedBelow) : most.lte(openAbove);
  if (isNot) return { ...judged, ...outcome(expected, 'between') };
  return { ...judged, ...unsure('near-the-limit') };
}

type Outcome = Pick<PointJudged, 'found' | 'verdict' | 'reason'>;

const REASONS: Record<'closed' | 'open', Record<'closed' | 'open' | 'between', PointReason | null>> = {
  closed: { closed: null, open: 'no-connection', between: 'high-resistance' },
  open: { closed: 'cross-connection', open: null, between: 'neither-open-nor-closed' },
};

function outcome(expected: 'closed' | 'open', found: 'closed' | 'open' | 'between'): Outcome {
  const reason = REASONS[expected][found];
  return { found, verdict: reason === null ? 'as-expected' : 'not-as-expected', reason };
}

function unsure(reason: PointReason): Outcome {
  return { found: 'unsure', verdict: 'cannot-tell', reason };
}

/** Up to how much the range reads on which overload showed; null for a range the meter chose itself, which is its highest then. */
function rangeReach(range: PointMeasured['range'], { setting }: JudgedWith['meter']): Big | null {
  if (range === 'automatic' || setting.range === 'auto' || setting.rangeOhms === null) return null;
  return new Big(setting.rangeOhms);
}

/** What leads, last digit and meter may be wrong by, added up. */
function doubtOf(raw: string, text: DecimalText, range: PointMeasured['range'], meter: JudgedWith['meter']): Big {
  const digit = new Big(resolutionOfRaw(raw) ?? 0);
  const error =
    meter.data === null
      ? new Big(text).abs().times(ASSUMED_PERCENT).div(100).plus(digit.times(ASSUMED_DIGITS))
      : errorByData(meter.data, text, range, meter);
  return error.plus(digit).plus(LEAD_CHANGE_OHMS).round(12, Big.roundUp);
}

function errorByData(
  data: MeterData,
  text: DecimalText,
  range: PointMeasured['range'],
  { setting }: JudgedWith['meter'],
): Big {
  const fixed = range === 'set' && setting.range === 'fixed' ? setting.rangeOhms : null;
  const ranges = rangesFor(data, '2-wire');
  const row =
    (fixed === null ? rangeHolding(data, '2-wire', text) : rangeOf(data, '2-wire', fixed)) ?? ranges.at(-1) ?? null;
  // Data without a row for two wires say nothing of this reading.
  if (row === null) return new Big(text).abs().times(ASSUMED_PERCENT).div(100);
  return new Big(limitOfError(data, row, text));
}
