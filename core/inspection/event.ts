import * as z from 'zod';
import { meterData } from '../accuracy/meterData.ts';
import { PRACTICE_ACTS } from '../practice/practiceAct.ts';
import { PRACTICE_CAUSES } from '../practice/practiceCause.ts';
import { decimalText } from '../quantity/decimal.ts';
import { checkName, found, outcome, referenceFacts } from '../readiness/check.ts';
import { planChoice } from '../sampling/planChoice.ts';
import { positionsChoice } from '../sampling/positions.ts';
import { SEVERITIES } from '../sampling/singlePlan.ts';
import { temperatureFacts } from '../uncertainty/temperatureFacts.ts';
import { decisionRule } from '../window/decisionRule.ts';
import { VERDICTS } from '../window/judge.ts';

/** A point in time in ISO 8601 with offset, like `2026-03-02T14:05:09.120+01:00`. */
const time = z.iso.datetime({ offset: true });
const count = z.number().int().nonnegative();

/**
 * When measuring may end before the sample is complete: as soon as it is certain that the plan does not accept the lot, as soon as
 * either is certain, or never.
 */
export const STOPPING = ['when-refused', 'when-certain', 'never'] as const;
export type Stopping = (typeof STOPPING)[number];

const tolerance = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('percent'), plus: decimalText, minus: decimalText }),
  z.object({ kind: z.literal('ohms'), plus: decimalText, minus: decimalText }),
  z.object({ kind: z.literal('limits'), lower: decimalText.nullable(), upper: decimalText.nullable() }),
]);

/** How inspection of the lots of this part and supplier stood when this one was received, by the switching rules. */
const switching = z.object({
  /** What the rules say. */
  severity: z.enum([...SEVERITIES, 'discontinued']),
  reducedAllowed: z.boolean(),
  /** The switching score, where the standard has one. */
  score: z.number().nullable(),
  /** In words and figures. */
  why: z.string(),
  /** Runs of the lots it rests on. */
  behind: z.array(count),
  /** Who inspects otherwise than the rules say, and why; null where nobody does. */
  override: z.object({ by: z.string(), reason: z.string() }).nullable(),
});

const lotFacts = z.object({
  inspector: z.string(),
  part: z.object({
    number: z.string(),
    description: z.string(),
    nominal: decimalText.nullable(),
    tolerance,
    /** What the part may turn into heat, in watts; null where it is not known. */
    ratedWatts: decimalText.nullable().default(null),
  }),
  window: z.object({
    nominal: decimalText.nullable(),
    lower: decimalText.nullable(),
    upper: decimalText.nullable(),
  }),
  lot: z.object({
    number: z.string(),
    supplier: z.string(),
    reel: z.string().default(''),
    size: count,
    /** The run in which this lot was decided before, where it is offered again; it does not count for switching then. */
    offeredAgainAfter: count.nullable().default(null),
  }),
  plan: z.object({
    choice: planChoice,
    codeLetter: z.string().nullable(),
    planLetter: z.string().nullable(),
    sampleSize: count,
    accept: count,
    reject: count,
    everyPiece: z.boolean(),
    further: z
      .object({ kind: z.enum(['second-sample', 'attributes']), sampleSize: count, accept: count, reject: count })
      .nullable()
      .default(null),
    variables: z.object({ k: decimalText }).nullable().default(null),
  }),
  /** Nonconforming pieces of class A; null where classes are not told apart. */
  classA: z.object({ accept: count, beyondPercent: decimalText }).nullable().default(null),
  /** When measuring may end before the sample is complete. */
  stopping: z.enum(STOPPING).default('when-refused'),
  switching: switching.nullable().default(null),
  /** Where along the reel the pieces are taken. */
  positions: positionsChoice.default({ kind: 'as-taken' }),
  measurement: z.object({
    method: z.enum(['2-wire', '4-wire']),
    range: z.enum(['window', 'auto']),
    integrationCycles: decimalText,
  }),
  /** How long a whole round of checks holds, and the ambient temperatures this lot may be measured at. */
  checks: z
    .object({
      /** Readings after which the checks are due again. */
      everyReadings: count.default(50),
      /** Minutes after which the checks are due again. */
      everyMinutes: count.default(240),
      ambientCelsius: z.object({ lowest: decimalText, highest: decimalText }).default({ lowest: '18', highest: '28' }),
    })
    .prefault({}),
  decision: decisionRule.prefault({}),
  /** At what temperature the value is wanted, and what is known of how the part moves with temperature. */
  temperature: temperatureFacts.prefault({}),
  /** The exercise that is done with this lot on the simulated bench, and no other; null of an inspection. */
  practice: z
    .object({
      exercise: z.string(),
      title: z.string(),
      /** What the trainee is told. */
      task: z.string(),
      /** What number goes with the cause that is named, where one is asked for. */
      asks: z.enum(['piece', 'operator']).nullable(),
      /** SHA-256 (hex) of the whole exercise, what nobody is told before the debrief included. */
      digest: z.string(),
    })
    .nullable()
    .default(null),
});

/** What can be corrected in a run that goes on or is decided. */
export const CORRECTABLE = ['lot number', 'supplier', 'reel', 'description'] as const;
export type Correctable = (typeof CORRECTABLE)[number];

/** The functions a meter may have. */
export const METER_FUNCTIONS = ['2-wire', '4-wire', 'continuity', 'dc-volts', 'temperature'] as const;

export const meterFacts = z.object({
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
  /** Name of the dialect it speaks. */
  dialect: z.string().default('scpi'),
  /** Its function and range are set by hand at the meter, so nothing of its setting was told or read back. */
  setByHand: z.boolean().default(false),
  measures: z.array(z.enum(METER_FUNCTIONS)).default(['2-wire', '4-wire']),
  /** Its accuracy and calibration as somebody entered them; null where nobody did. */
  data: meterData.nullable().default(null),
});

const verdict = z.enum(VERDICTS);
/** `studied` ends a study: it says nothing of the lot. */
const disposition = z.enum(['accepted', 'not-accepted', 'on-hold', 'studied']);

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
    /** Where along the reel the piece was taken, from 1; null where that is not known (`as-taken`). */
    position: count.nullable().default(null),
    /** The number as the meter sent it, moved to ohms where it sent another unit. */
    raw: z.string(),
    /** The meter's whole line, where that is more than the number. */
    said: z.string().optional(),
    /** Exact value: the zero subtracted, brought to the reference temperature; null for the meter's overload. */
    ohms: decimalText.nullable(),
    /** The zero that was subtracted: the shorted leads in 2-wire. */
    zeroOhms: decimalText.default('0'),
    /** What was added to bring the value to the reference temperature, where the temperature coefficient is known. */
    temperatureOhms: decimalText.default('0'),
    /** Expanded uncertainty of the value, rounded up, and its coverage factor; null where it is not known. */
    uncertainty: z.object({ expandedOhms: decimalText, coverageFactor: decimalText }).nullable().default(null),
    verdict,
  }),
  /** Somebody takes the next piece, or the one that is measured again, at another position than asked for; null: he does not after all. */
  z.object({ type: z.literal('position-said'), at: time, piece: count, position: count.nullable() }),
  z.object({ type: z.literal('reading-voided'), at: time, by: z.string(), reading: count, reason: z.string() }),
  /** A check of the bench was done; `why` says in words and figures how it came out and, where it failed, what to do. */
  z.object({
    type: z.literal('bench-checked'),
    at: time,
    by: z.string(),
    check: checkName,
    outcome,
    why: z.string(),
    found: z.array(found),
    /** Of the check `reference`: what was measured. */
    reference: referenceFacts.nullable(),
    /** Of the check `shorted-leads` in 2-wire, where it passed: the zero from now on. */
    zeroOhms: decimalText.nullable(),
  }),
  /** What was shown of the bench holds no longer: all checks are due again. */
  z.object({ type: z.literal('readiness-expired'), at: time, why: z.string() }),
  /** Somebody overrode the calibration of a meter that is overdue or unknown. */
  z.object({ type: z.literal('calibration-overridden'), at: time, by: z.string(), reason: z.string() }),
  z.object({ type: z.literal('run-interrupted'), at: time, why: z.string() }),
  z.object({ type: z.literal('run-continued'), at: time }),
  z.object({
    type: z.literal('lot-decided'),
    at: time,
    by: z.string(),
    disposition,
    reason: z.string(),
    /** A second person, who answers for accepting the lot against its plan as well; null where it goes by the plan. */
    approvedBy: z.string().nullable().default(null),
  }),
  /** A lot that was accepted or not accepted is decided otherwise: the decision before stays in the record. */
  z.object({
    type: z.literal('decision-corrected'),
    at: time,
    by: z.string(),
    disposition,
    reason: z.string(),
    approvedBy: z.string().nullable().default(null),
  }),
  /** Something was typed wrong of the lot, on which neither window nor plan depend. */
  z.object({
    type: z.literal('facts-corrected'),
    at: time,
    by: z.string(),
    fact: z.enum(CORRECTABLE),
    was: z.string(),
    is: z.string(),
    reason: z.string(),
  }),
  z.object({ type: z.literal('hold-lifted'), at: time, by: z.string(), reason: z.string() }),
  z.object({ type: z.literal('certificate-written'), at: time, file: z.string(), sha256: z.string() }),
  /** Of an exercise: something was done at the simulated bench. */
  z.object({ type: z.literal('bench-acted'), at: time, act: z.enum(PRACTICE_ACTS) }),
  /** Of an exercise: what the trainee takes for the cause. The last one counts. */
  z.object({
    type: z.literal('cause-named'),
    at: time,
    cause: z.enum(PRACTICE_CAUSES),
    which: count.nullable(),
  }),
  /** Of an exercise: its points, and what was true. It ends it. */
  z.object({
    type: z.literal('exercise-scored'),
    at: time,
    marks: z.array(z.object({ mark: z.string(), points: count, of: count, why: z.string() })),
    causes: z.array(z.string()),
    which: z.array(count),
    dispositions: z.array(z.string()),
    explained: z.string(),
  }),
]);

export type InspectionEvent = z.infer<typeof inspectionEvent>;
export type LotFacts = z.infer<typeof lotFacts>;
export type MeterFacts = z.infer<typeof meterFacts>;
export type MeterFunction = (typeof METER_FUNCTIONS)[number];
export type Disposition = z.infer<typeof disposition>;
export const dispositions = disposition;
