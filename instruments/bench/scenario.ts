import { z } from 'zod';
import { problem } from '../../core/problem/problem.ts';
import { FUNCTION_NAMES } from './functions.ts';
import { LEAD_STATES } from './leads.ts';
import { NAMED_PLACES } from './place.ts';
import { normalAt, uniformAt } from './random.ts';
import { lotOf, type ReelName } from './reels.ts';
import { referenceNear } from './reference.ts';
import { STRESS_NAMES } from './stress.ts';
import { wiringSchema } from './wiring.ts';

const share = z.number().min(0).max(1);

/** The ways the simulated meter can behave; each is a file in `manners/`. */
export const MANNER_NAMES = [
  'plain',
  'needs-remote',
  'two-wire-only',
  'other-words',
  'value-and-unit',
  'several-values',
  'one-command',
  'talker',
] as const;
export type MannerName = (typeof MANNER_NAMES)[number];

const functionNames = Object.keys(FUNCTION_NAMES) as (keyof typeof FUNCTION_NAMES)[];

/** What a scenario or a command may set the conditions of the bench to. */
export const CONDITION_LIMITS = {
  fixtureVolts: z.number().min(-1000).max(1000),
  gainErrorPpm: z.number().min(-500_000).max(500_000),
  driftPpmPerReading: z.number().min(-100_000).max(100_000),
  ambientCelsius: z.number().min(-40).max(100),
  contactSpreadOhms: z.number().min(0).max(100),
};

/** How many pieces a second hands can put on the probes. */
export const PIECES_PER_SECOND = z.number().min(0.05).max(10);

/** The fields of a scenario, each with its limits and what goes without saying. */
export const scenarioSchema = z.strictObject({
  /** Everything random on the bench follows from it; it is also the serial number the bench answers with. */
  seed: z.int().min(0).max(999_999_999).default(1),
  lot: z
    .strictObject({
      nominalOhms: z.number().positive().max(1e9).default(4700),
      /** True values of the first pieces, one by one, in ohms at 20 °C; null conducts nothing. The rest is drawn. */
      pieces: z.array(z.number().min(0).max(1e12).nullable()).max(1000).default([]),
      /** How far the mean of the lot lies from the nominal value. */
      meanOffsetPercent: z.number().min(-99).max(1000).default(0.1),
      /** Standard deviation of the pieces. */
      spreadPercent: z.number().min(0).max(100).default(0.22),
      /** Pieces that conduct nothing. */
      shareOpen: share.default(0.001),
      /** Pieces of another value that got among these. */
      shareWrong: share.default(0.003),
      wrongOhms: z.number().positive().max(1e9).default(47_000),
      /** By how many millionths of the nominal value the mean moves from each piece of the reel to the next. */
      driftPpmPerPiece: z.number().min(-100_000).max(100_000).default(0),
      /** Pieces of a second lot on the same reel, and how far its mean lies from the nominal value. */
      shareSecond: share.default(0),
      secondOffsetPercent: z.number().min(-99).max(1000).default(0),
      /** Pieces nearer to the nominal value than this were picked out for a better class; 0 for none. */
      pickedOutPercent: z.number().min(0).max(1000).default(0),
      /** Pieces further from the nominal value than this were taken out; null for none. */
      cutPercent: z.number().min(0).max(1000).nullable().default(null),
      /** Temperature coefficient of the pieces, whose values are those at 20 °C: mean and standard deviation. */
      tcrPpmPerKelvin: z.number().min(-10_000).max(10_000).default(50),
      tcrSpreadPpmPerKelvin: z.number().min(0).max(1000).default(5),
      /** By how many kelvins a watt of test power warms a piece in the fixture. */
      kelvinsPerWatt: z.number().min(0).max(10_000).default(150),
    })
    .refine(({ pickedOutPercent, cutPercent }) => cutPercent === null || cutPercent > pickedOutPercent, {
      path: ['cutPercent'],
      error: 'must be more than pickedOutPercent',
    })
    .prefault({}),
  /** What each piece is still connected to; null where they lie by themselves. */
  circuit: z
    .strictObject({
      /** The rest of the circuit beside each piece. */
      besideOhms: z.number().positive().max(1e12).nullable().default(null),
      /** What is read at the first pieces while they are in it, where that is known one by one. */
      reads: z.array(z.number().min(0).max(1e12).nullable()).max(1000).default([]),
    })
    .nullable()
    .default(null),
  /** A person holds both tips: what is between two hands, about; null where pieces are held in clips. */
  fingersOhms: z.number().positive().max(1e9).nullable().default(null),
  /** What changes by itself once the probes were put on so many pieces. */
  later: z
    .array(
      z.strictObject({
        afterPieces: z.int().min(0).max(100_000),
        leads: z.enum(LEAD_STATES).optional(),
        leadOhms: z.number().min(0).max(100).optional(),
        fixtureVolts: CONDITION_LIMITS.fixtureVolts.optional(),
        gainErrorPpm: CONDITION_LIMITS.gainErrorPpm.optional(),
        driftPpmPerReading: CONDITION_LIMITS.driftPpmPerReading.optional(),
        ambientCelsius: CONDITION_LIMITS.ambientCelsius.optional(),
      }),
    )
    .max(20)
    .default([]),
  /** What the pieces have been through before they came to the bench; null for nothing. */
  stress: z.enum(STRESS_NAMES).nullable().default(null),
  /** Both leads and contacts together; in a 2-wire measurement the meter reads them as well. */
  leadOhms: z.number().min(0).max(100).default(0.08),
  /** Standard deviation of the contacts from one placing of the probes to the next; 4-wire does not see it. */
  contactSpreadOhms: CONDITION_LIMITS.contactSpreadOhms.default(0.002),
  leads: z
    .strictObject({
      state: z.enum(LEAD_STATES).default('good'),
      /** A sense lead hangs free: 4-wire then reads about what 2-wire does. */
      senseOpen: z.boolean().default(false),
    })
    .prefault({}),
  /** What is written on the reference resistor; null takes a value that suits the lot. */
  referenceOhms: z.number().positive().max(1e8).nullable().default(null),
  /** Expanded uncertainty (k = 2) of the reference; its true value lies within. */
  referenceUncertaintyPpm: z.number().min(0).max(100_000).default(100),
  /** Temperature coefficient of the reference, whose value is the one at 23 °C. */
  referenceTcrPpmPerKelvin: z.number().min(-10_000).max(10_000).default(5),
  /** DC volts across what lies in the fixture: a part that is not de-energised. */
  fixtureVolts: CONDITION_LIMITS.fixtureVolts.default(0),
  ambientCelsius: CONDITION_LIMITS.ambientCelsius.default(23),
  /** Hands that go on by themselves, once they are told to. */
  hands: z
    .strictObject({
      piecesPerSecond: PIECES_PER_SECOND.default(1),
      /** Pieces on which a tip slips while they are held. */
      shareSlips: share.default(0.05),
    })
    .prefault({}),
  /** Terminals and what connects them, for continuity (wiring.ts); null where nothing is wired. */
  wiring: wiringSchema.nullable().default(null),
  meter: z
    .strictObject({
      manner: z.enum(MANNER_NAMES).default('plain'),
      /** What it can measure, as far as its manner has it. */
      functions: z
        .array(z.enum(functionNames))
        .refine((names) => names.includes('2-wire'), 'a resistance meter measures 2-wire')
        .default(functionNames),
      /** By how many millionths it shows too much, and how much that grows with each reading. */
      gainErrorPpm: CONDITION_LIMITS.gainErrorPpm.default(0),
      driftPpmPerReading: CONDITION_LIMITS.driftPpmPerReading.default(0),
      /** For the manner `talker`, which takes no commands. */
      talker: z
        .strictObject({
          /** Pause between one reading and the next. */
          pauseMilliseconds: z.number().min(1).max(60_000).default(160),
          /**
           * Where somebody puts the probes, and for how many readings; `NEXT` is the piece after the last one, from 1.
           * Gone through again and again, from the beginning at each connection. Empty: the probes stay where they are.
           */
          schedule: z
            .array(
              z.strictObject({
                place: z.union([z.int().min(1).max(1e9), z.enum([...NAMED_PLACES, 'NEXT'])]),
                readings: z.int().min(1).max(1_000_000),
              }),
            )
            .default([]),
        })
        .prefault({}),
      /** Standard deviation of a reading at 1 power-line cycle, in millionths of the range. */
      noisePpmOfRange: z.number().min(0).max(10_000).default(2),
      mainsHertz: z.union([z.literal(50), z.literal(60)]).default(50),
      /** `real`: a reading takes its integration time, twice for auto-zero, and settling. `none`: it takes no time. */
      pace: z.enum(['real', 'none']).default('real'),
    })
    .prefault({}),
});

/** What is on the simulated bench, as a person or a file gives it: everything may be left out. */
export type BenchScenarioInput = z.input<typeof scenarioSchema>;
/** What is on the simulated bench, complete. Defaults are our own invention: a good lot of 4.7 kΩ ±1 %. */
export type BenchScenario = z.output<typeof scenarioSchema>;

/**
 * Checks and completes a scenario.
 * @throws {Problem} input-invalid
 */
export function readScenario(input: unknown): BenchScenario {
  const result = scenarioSchema.safeParse(input);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  throw problem('input-invalid', ['bench', ...(issue?.path ?? [])].join('.'), issue?.message ?? 'not a scenario');
}

export interface PartOnBench {
  seed: number;
  /** Null where the part names only limits. */
  nominalOhms: number | null;
  /** Null where the part has no such limit. */
  lowerOhms: number | null;
  upperOhms: number | null;
  pace?: 'real' | 'none';
  manner?: MannerName;
  reel?: ReelName;
}

const SHARE_OF_POOR_LOTS = 0.15;
const POOR_LOT_KEY = 11;
const LOT_MEAN_KEY = 12;

/**
 * A reel that fits what a part claims, shaped as asked. Of the usual reel most lots are good: mean within about a sixth and standard deviation a quarter
 * of half the window, a few pieces of another value or open. About one lot in seven is poor: its mean lies well
 * off and it spreads more. Which one it is follows from the seed. All of this is invented. The reference resistor suits
 * the part.
 */
export function scenarioForPart(part: PartOnBench): BenchScenarioInput {
  const { seed, reel = 'usual' } = part;
  const { centre, halfWidth } = target(part);
  return {
    seed,
    lot: reel === 'usual' ? usualLot(seed, centre, halfWidth) : lotOf(reel, seed, centre, halfWidth),
    referenceOhms: referenceNear(centre),
    meter: { ...(part.pace && { pace: part.pace }), ...(part.manner && { manner: part.manner }) },
  };
}

function usualLot(seed: number, centre: number, halfWidth: number): NonNullable<BenchScenarioInput['lot']> {
  const poor = uniformAt(seed, POOR_LOT_KEY) < SHARE_OF_POOR_LOTS;
  const side = normalAt(seed, LOT_MEAN_KEY);
  const meanOffset = (poor ? Math.sign(side) * 0.7 : Math.max(-2, Math.min(2, side)) / 8) * halfWidth;
  const spread = (poor ? 0.4 : 0.22) * halfWidth;
  return {
    nominalOhms: centre,
    meanOffsetPercent: (100 * meanOffset) / centre,
    spreadPercent: (100 * spread) / centre,
    wrongOhms: Math.min(1e9, centre * 10),
  };
}

/** Where the lot is centred and how far a good piece may be from there; a part of 0 Ω has no percentages. */
function target({ nominalOhms, lowerOhms, upperOhms }: PartOnBench): { centre: number; halfWidth: number } {
  // A reel of zero-ohm pieces is centred above zero: no piece is less.
  const lower = Math.max(0, lowerOhms ?? 0);
  if (upperOhms === null) {
    const centre = nominalOhms !== null && nominalOhms > lower ? nominalOhms : 2 * (lower || 1000);
    return { centre, halfWidth: centre - lower };
  }
  const nominal = nominalOhms !== null && nominalOhms > lower && nominalOhms < upperOhms ? nominalOhms : null;
  const centre = nominal ?? (lower + upperOhms) / 2;
  return { centre, halfWidth: Math.min(centre - lower, upperOhms - centre) };
}
