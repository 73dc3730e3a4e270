import { z } from 'zod';
import { problem } from '../../core/problem/problem.ts';
import { normalAt, uniformAt } from './random.ts';

const share = z.number().min(0).max(1);

const scenarioSchema = z.strictObject({
  /** Everything random on the bench follows from it; it is also the serial number the bench answers with. */
  seed: z.int().min(0).max(999_999_999).default(1),
  lot: z
    .strictObject({
      nominalOhms: z.number().positive().max(1e9).default(4700),
      /** How far the mean of the lot lies from the nominal value. */
      meanOffsetPercent: z.number().min(-99).max(1000).default(0.1),
      /** Standard deviation of the pieces. */
      spreadPercent: z.number().min(0).max(50).default(0.22),
      /** Pieces that conduct nothing. */
      shareOpen: share.default(0.001),
      /** Pieces of another value that got among these. */
      shareWrong: share.default(0.003),
      wrongOhms: z.number().positive().max(1e9).default(47_000),
    })
    .prefault({}),
  /** Both leads and contacts together; in a 2-wire measurement the meter reads them as well. */
  leadOhms: z.number().min(0).max(100).default(0.08),
  meter: z
    .strictObject({
      /** Standard deviation of a reading at 1 power-line cycle, in millionths of the range. */
      noisePpmOfRange: z.number().min(0).max(10_000).default(2),
      mainsHertz: z.union([z.literal(50), z.literal(60)]).default(50),
      /** `real`: a reading takes its integration time, twice for auto-zero. `none`: it takes no time. */
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
}

const SHARE_OF_POOR_LOTS = 0.15;
const POOR_LOT_KEY = 11;
const LOT_MEAN_KEY = 12;

/**
 * A reel that fits what a part claims. Most lots are good: mean within about a sixth and standard deviation a quarter
 * of half the window, a few pieces of another value or open. About one lot in seven is poor: its mean lies well
 * off and it spreads more. Which one it is follows from the seed. All of this is invented.
 */
export function scenarioForPart(part: PartOnBench): BenchScenarioInput {
  const { centre, halfWidth } = target(part);
  const poor = uniformAt(part.seed, POOR_LOT_KEY) < SHARE_OF_POOR_LOTS;
  const side = normalAt(part.seed, LOT_MEAN_KEY);
  const meanOffset = (poor ? Math.sign(side) * 0.7 : Math.max(-2, Math.min(2, side)) / 8) * halfWidth;
  const spread = (poor ? 0.4 : 0.22) * halfWidth;
  return {
    seed: part.seed,
    lot: {
      nominalOhms: centre,
      meanOffsetPercent: (100 * meanOffset) / centre,
      spreadPercent: (100 * spread) / centre,
      wrongOhms: Math.min(1e9, centre * 10),
    },
    ...(part.pace && { meter: { pace: part.pace } }),
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
