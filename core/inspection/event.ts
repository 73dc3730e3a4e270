import * as z from 'zod';
import { decimalText } from '../quantity/decimal.ts';
import { LEVELS } from '../sampling/codeLetter.ts';

/** A point in time in ISO 8601 with offset, like `2026-03-02T14:05:09.120+01:00`. */
const time = z.iso.datetime({ offset: true });
const count = z.number().int().nonnegative();

const tolerance = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('percent'), plus: decimalText, minus: decimalText }),
  z.object({ kind: z.literal('ohms'), plus: decimalText, minus: decimalText }),
  z.object({ kind: z.literal('limits'), lower: decimalText.nullable(), upper: decimalText.nullable() }),
]);

const planChoice = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('aql'), level: z.enum(LEVELS), aql: z.string() }),
  z.object({ kind: z.literal('agreed'), sampleSize: count, accept: count }),
]);

const lotFacts = z.object({
  inspector: z.string(),
  part: z.object({
    number: z.string(),
    description: z.string(),
    nominal: decimalText.nullable(),
    tolerance,
  }),
  window: z.object({
    nominal: decimalText.nullable(),
    lower: decimalText.nullable(),
    upper: decimalText.nullable(),
  }),
  lot: z.object({ number: z.string(), supplier: z.string(), size: count }),
  plan: z.object({
    choice: planChoice,
    codeLetter: z.string().nullable(),
    planLetter: z.string().nullable(),
    sampleSize: count,
    accept: count,
    reject: count,
    everyPiece: z.boolean(),
  }),
  measurement: z.object({
    method: z.enum(['2-wire', '4-wire']),
    range: z.enum(['window', 'auto']),
    integrationCycles: decimalText,
  }),
});

const meterFacts = z.object({
  /** Where the meter was reached. Not on the certificate: the same meter may be reached in several ways. */
  address: z.string(),
  /** The four fields of `*IDN?` (IEEE 488.2, 10.14) and its whole text. */
  identity: z.object({
    maker: z.string(),
    model: z.string(),
    serial: z.string(),
    firmware: z.string(),
    text: z.string(),
    simulated: z.boolean(),
  }),
  /** The settings as the meter itself reports them. */
  setting: z.object({
    function: z.enum(['2-wire', '4-wire']),
    range: z.enum(['fixed', 'auto']),
    rangeOhms: decimalText.nullable(),
    integrationCycles: z.string(),
  }),
});

const verdict = z.enum(['pass', 'fail-low', 'fail-high', 'open']);
const disposition = z.enum(['accepted', 'not-accepted', 'on-hold']);

/** Everything that can happen in a run. Events are never edited or deleted; `at` is when, `by` is who. */
export const inspectionEvent = z.discriminatedUnion('type', [
  z.object({ type: z.literal('lot-received'), at: time, facts: lotFacts }),
  z.object({ type: z.literal('meter-connected'), at: time, meter: meterFacts }),
  /** Somebody confirmed that the bench is ready and the cautions are kept. */
  z.object({ type: z.literal('bench-confirmed'), at: time, by: z.string(), cautions: z.array(z.string()) }),
  z.object({
    type: z.literal('reading-taken'),
    at: time,
    /** Readings are numbered from 1 in the order they were taken, voided ones included. */
    reading: count,
    /** Pieces are numbered from 1 in the order they are taken from the lot. */
    piece: count,
    /** The meter's very text. */
    raw: z.string(),
    /** Exact value; null for the meter's overload. */
    ohms: decimalText.nullable(),
    verdict,
  }),
  z.object({ type: z.literal('reading-voided'), at: time, by: z.string(), reading: count, reason: z.string() }),
  z.object({ type: z.literal('run-interrupted'), at: time, why: z.string() }),
  z.object({ type: z.literal('run-continued'), at: time }),
  z.object({ type: z.literal('lot-decided'), at: time, by: z.string(), disposition, reason: z.string() }),
  z.object({ type: z.literal('hold-lifted'), at: time, by: z.string(), reason: z.string() }),
  z.object({ type: z.literal('certificate-written'), at: time, file: z.string(), sha256: z.string() }),
]);

export type InspectionEvent = z.infer<typeof inspectionEvent>;
export type LotFacts = z.infer<typeof lotFacts>;
export type MeterFacts = z.infer<typeof meterFacts>;
export type Disposition = z.infer<typeof disposition>;
export const dispositions = disposition;
