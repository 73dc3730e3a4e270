import * as z from 'zod';
import { meterFacts } from '../inspection/event.ts';
import { decimalText } from '../quantity/decimal.ts';
import { CROSS_CHOICES } from './crossPairs.ts';
import { FOUND, POINT_REASONS, POINT_VERDICTS } from './judgePoint.ts';
import { LEAD_CHECKS, leadJudged, leadShown } from './leadCheck.ts';
import { continuityLimits } from './limits.ts';
import { MOST_POINTS, point } from './point.ts';

/** A point in time in ISO 8601 with offset. */
const time = z.iso.datetime({ offset: true });
const count = z.number().int().nonnegative();

export const continuityFacts = z.object({
  inspector: z.string(),
  /** What is measured, in words: a harness, a panel, a switch. */
  title: z.string(),
  /** Number of its drawing or harness; may be empty. */
  drawing: z.string(),
  /** Serial number or lot; may be empty. */
  serial: z.string(),
  points: z.array(point).min(1).max(MOST_POINTS),
  cross: z.enum(CROSS_CHOICES),
  limits: continuityLimits,
  /** Readings after which the leads are checked again, so that a lead which breaks spoils no more. */
  checksEveryReadings: z.number().int().positive(),
});
export type ContinuityFacts = z.infer<typeof continuityFacts>;

export const continuityDisposition = z.enum(['accepted', 'not-accepted', 'on-hold']);
export type ContinuityDisposition = z.infer<typeof continuityDisposition>;

/** Who said that the reading is to be taken: somebody asked for it, contact was held, or two taps of the tips said that it is open. */
export const READ_BY = ['asked', 'contact', 'sign'] as const;
export type ReadBy = (typeof READ_BY)[number];

/**
 * Everything that can happen in a continuity run. Events are never edited or deleted; `at` is when, `by` is who. All names begin
 * with `continuity-`: they stand in one record, and one chain, with those of inspection runs.
 */
export const continuityEvent = z.discriminatedUnion('type', [
  z.object({ type: z.literal('continuity-received'), at: time, facts: continuityFacts }),
  z.object({ type: z.literal('continuity-meter-connected'), at: time, meter: meterFacts }),
  /** Somebody confirmed that the wiring is dead and the cautions are kept. */
  z.object({
    type: z.literal('continuity-cautions-confirmed'),
    at: time,
    by: z.string(),
    cautions: z.array(z.string()),
  }),
  z.object({
    type: z.literal('continuity-leads-checked'),
    at: time,
    by: z.string(),
    check: z.enum(LEAD_CHECKS),
    shown: z.array(leadShown),
    ...leadJudged.shape,
  }),
  /** What was shown of the leads holds no longer: all checks are due again. */
  z.object({ type: z.literal('continuity-checks-lapsed'), at: time, why: z.string() }),
  z.object({
    type: z.literal('continuity-point-read'),
    at: time,
    /** Readings are numbered from 1 in the order they were taken. */
    reading: count,
    point: count,
    by: z.enum(READ_BY),
    /** The number as the meter sent it, moved to ohms where it sent another unit. */
    raw: z.string(),
    /** The meter's whole line, where that is more than the number. */
    said: z.string().optional(),
    range: z.enum(['set', 'automatic']),
    ohms: decimalText.nullable(),
    zeroOhms: decimalText,
    doubtOhms: decimalText,
    found: z.enum(FOUND),
    verdict: z.enum(POINT_VERDICTS),
    reason: z.enum(POINT_REASONS).nullable(),
  }),
  z.object({ type: z.literal('continuity-point-skipped'), at: time, by: z.string(), point: count, reason: z.string() }),
  z.object({
    type: z.literal('continuity-reading-voided'),
    at: time,
    by: z.string(),
    reading: count,
    reason: z.string(),
  }),
  z.object({
    type: z.literal('continuity-decided'),
    at: time,
    by: z.string(),
    disposition: continuityDisposition,
    reason: z.string(),
    /** A second person, who answers for accepting it although not all is as expected; null where all is. */
    approvedBy: z.string().nullable(),
  }),
  z.object({ type: z.literal('continuity-hold-lifted'), at: time, by: z.string(), reason: z.string() }),
  z.object({ type: z.literal('continuity-certificate-written'), at: time, file: z.string(), sha256: z.string() }),
]);
export type ContinuityEvent = z.infer<typeof continuityEvent>;
