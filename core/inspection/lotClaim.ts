import Big from 'big.js';
import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import { planFor } from '../sampling/plan.ts';
import { LARGEST_SEED, mustBeDrawable, type PositionsChoice } from '../sampling/positions.ts';
import type { Severity } from '../sampling/singlePlan.ts';
import { REFERENCE_CELSIUS, type TemperatureFacts } from '../uncertainty/temperatureFacts.ts';
import { type DecisionRule, MOST_GUARD_FACTOR, RULES } from '../window/decisionRule.ts';
import { parseTolerance } from '../window/parseTolerance.ts';
import { windowOf } from '../window/window.ts';
import { type LotFacts, STOPPING } from './event.ts';
import { choiceOf, overrideOf, planClaim } from './planClaim.ts';
import { spreadOhms } from './spreadOhms.ts';
import { lineOfText, namedText } from './text.ts';

/** Decimal text, as the record keeps it. */
const celsius = z.string().regex(/^-?\d{1,3}(\.\d{1,3})?$/, 'expected degrees Celsius as text, like "23"');

/** Decimal text of a number that is not below 0. */
const notNegative = z.string().regex(/^\d{1,12}(\.\d{1,12})?$/, 'expected a plain decimal number that is not negative');
const aboveZero = notNegative.refine((text) => Number(text) > 0, 'must be above 0');
const ppmPerKelvin = z.string().regex(/^-?\d{1,6}(\.\d{1,6})?$/, 'expected ppm per kelvin as text, like "50"');

const pieces = z.number('expected a whole number of pieces').int('expected a whole number of pieces');

/**
 * What somebody says of a lot that is to be inspected: as typed into the receiving form, or as it stands in a JSON file
 * for the command line. Values are texts as an engineer writes them (`4k7`, `1 %`). Unknown fields are refused, so that
 * a misspelt one is not silently left out.
 */
export const lotClaim = z.strictObject({
  inspector: namedText,
  part: z.strictObject({
    number: namedText,
    description: lineOfText.default(''),
    /** May be left out where the tolerance gives the limits themselves. */
    nominal: lineOfText.default(''),
    tolerance: namedText,
    /** What the part may turn into heat, as text in watts; left out where it is not known. */
    ratedWatts: aboveZero.optional(),
  }),
  lot: z.strictObject({
    number: namedText,
    supplier: lineOfText.default(''),
    /** The number of the reel, where the lot is one reel and has one. */
    reel: lineOfText.default(''),
    size: pieces,
  }),
  plan: planClaim,
  /**
   * Open, short or wrong value, and how many of them are accepted beside what the plan counts: a value further beyond a limit than
   * this share of that limit is a wrong one. Null: every piece that does not conform is alike.
   */
  classA: z
    .strictObject({
      accept: pieces.min(0, 'must not be negative').default(0),
      beyondPercent: aboveZero.refine((text) => Number(text) < 100, 'must be below 100').default('5'),
    })
    .nullable()
    .prefault({}),
  /** When measuring may end before the sample is complete (core/inspection/event.ts). */
  stopping: z.enum(STOPPING).default('when-refused'),
  /** Where along the reel the pieces of the sample are taken. A seed that is left out is drawn when the lot is received. */
  positions: z
    .discriminatedUnion(
      'kind',
      [
        z.strictObject({ kind: z.literal('as-taken') }),
        z.strictObject({
          kind: z.literal('random'),
          seed: z.number().int().min(0).max(LARGEST_SEED, `at most ${LARGEST_SEED}`).optional(),
        }),
        z.strictObject({ kind: z.literal('spread') }),
      ],
      { error: 'expected { "kind": "random" }, { "kind": "spread" } or { "kind": "as-taken" }' },
    )
    .default({ kind: 'as-taken' }),
  measurement: z
    .strictObject({
      method: z.enum(['2-wire', '4-wire']).default('2-wire'),
      /** `window`: the fixed range that holds the window; `auto`: the meter chooses for each piece. */
      range: z.enum(['window', 'auto']).default('window'),
      /** Integration time in cycles of the mains. */
      integrationCycles: z.number().min(0.001).max(1000).default(1),
    })
    .prefault({}),
  /** When the checks of the bench are due again, and the ambient temperatures this lot may be measured at. */
  checks: z
    .strictObject({
      everyReadings: z.number().int().min(1).max(1000).default(50),
      everyMinutes: z.number().int().min(1).max(1440).default(240),
      ambientCelsius: z
        .strictObject({ lowest: celsius, highest: celsius })
        .refine(({ lowest, highest }) => Number(lowest) < Number(highest), 'must have its lowest below its highest')
        .default({ lowest: '18', highest: '28' }),
    })
    .prefault({}),
  /** How the uncertainty of a reading takes part in its verdict. */
  decision: z
    .strictObject({
      rule: z.enum(RULES).default('simple-acceptance'),
      /** Width of the guard bands as a share of U. */
      guardFactor: notNegative
        .refine((text) => Number(text) <= MOST_GUARD_FACTOR, `at most ${MOST_GUARD_FACTOR}`)
        .default('1'),
      /** Standard deviation of what the process makes: `12 ohm`, or per cent of the nominal value: `0.3 %`. */
      processSpread: lineOfText.default(''),
    })
    .prefault({}),
  /** At what temperature the value is wanted, and how the part moves with temperature. */
  temperature: z
    .strictObject({
      referenceCelsius: z.enum(REFERENCE_CELSIUS).default('20'),
      coefficient: z
        .union(
          [
            z.strictObject({ knownPpmPerKelvin: ppmPerKelvin, uncertaintyPpmPerKelvin: notNegative }),
            z.strictObject({ limitPpmPerKelvin: notNegative }),
          ],
          {
            error:
              'expected { "knownPpmPerKelvin": "15", "uncertaintyPpmPerKelvin": "3" } or { "limitPpmPerKelvin": "50" }',
          },
        )
        .optional(),
      /** The ambient temperature is known within ± so many kelvins. */
      thermometerKelvins: notNegative.default('1'),
    })
    .prefault({}),
});

/** A claim as it may be written (defaults left out). */
export type LotClaimInput = z.input<typeof lotClaim>;
export type LotClaim = z.output<typeof lotClaim>;

/**
 * The claim with this seed where its positions are drawn at random without a seed of their own.
 * @param seed 0 to 4 294 967 295
 */
export function withSeed(claim: LotClaim, seed: number): LotClaim {
  const { positions } = claim;
  return positions.kind === 'random' ? { ...claim, positions: { ...positions, seed: positions.seed ?? seed } } : claim;
}

/** How inspection of the lots of a part and supplier stands, and whether this lot was decided before. */
export interface Series {
  /** By the switching rules. */
  switching: Omit<NonNullable<LotFacts['switching']>, 'override'>;
  /** The run in which this very lot was decided; null where it is offered for the first time. */
  offeredAgainAfter: number | null;
}

/** Of a part and supplier of which no lot is known. */
export const FIRST_OF_SERIES: Series = {
  switching: {
    severity: 'normal',
    reducedAllowed: false,
    score: null,
    why: 'Inspection begins as normal: no lot of this part and supplier is known.',
    behind: [],
  },
  offeredAgainAfter: null,
};

/** The severity that goes without saying: where inspection was discontinued and somebody lets it go on, tightened (MIL-STD-105E, 4.8). */
export function severityBy({ switching: { severity } }: Series): Severity {
  return severity === 'discontinued' ? 'tightened' : severity;
}

/**
 * Works out what the claim means: the window in exact decimals, the plan and where pieces are taken.
 * @param series how the lots before it were decided
 * @throws the problems of parseOhms, parseTolerance, windowOf, planFor and overrideOf; seed-missing, positions-of-study, positions-too-many
 */
export function factsOf(claim: LotClaim, series: Series = FIRST_OF_SERIES): LotFacts {
  const nominal = claim.part.nominal === '' ? null : parseOhms(claim.part.nominal);
  const tolerance = parseTolerance(claim.part.tolerance);
  const { severity, reducedAllowed } = series.switching;
  const override = overrideOf(claim.plan, severity, reducedAllowed);
  const facts: LotFacts = {
    inspector: claim.inspector,
    part: {
      number: claim.part.number,
      description: claim.part.description,
      nominal: nominal && plain(nominal),
      tolerance,
      ratedWatts: claim.part.ratedWatts ?? null,
    },
    window: windowOf(nominal, tolerance),
    lot: { ...claim.lot, offeredAgainAfter: series.offeredAgainAfter },
    plan: planFor(claim.lot.size, choiceOf(claim.plan, nominal, severityBy(series))),
    classA: 'study' in claim.plan ? null : classAOf(claim),
    stopping: claim.stopping,
    switching: 'aql' in claim.plan ? { ...series.switching, override } : null,
    positions: positionsOf(claim),
    measurement: { ...claim.measurement, integrationCycles: plain(new Big(claim.measurement.integrationCycles)) },
    checks: claim.checks,
    decision: decisionOf(claim, nominal),
    temperature: temperatureOf(claim),
    practice: null,
  };
  mustBeDrawable(facts);
  return facts;
}

function classAOf({ classA }: LotClaim): LotFacts['classA'] {
  return classA && { ...classA, beyondPercent: plain(new Big(classA.beyondPercent)) };
}

function positionsOf({ positions, plan }: LotClaim): PositionsChoice {
  if ('study' in plan && positions.kind !== 'as-taken') throw problem('positions-of-study');
  if (positions.kind !== 'random') return positions;
  const { kind, seed } = positions;
  if (seed === undefined) throw problem('seed-missing');
  return { kind, seed };
}

function decisionOf({ decision: { processSpread, ...rule } }: LotClaim, nominal: Big | null): DecisionRule {
  return { ...rule, processSpreadOhms: processSpread === '' ? null : spreadOhms(processSpread, nominal) };
}

function temperatureOf({ temperature: { coefficient, ...rest } }: LotClaim): TemperatureFacts {
  if (coefficient === undefined) return { ...rest, coefficient: { kind: 'unknown' } };
  if ('limitPpmPerKelvin' in coefficient) {
    return { ...rest, coefficient: { kind: 'limit', ppmPerKelvin: coefficient.limitPpmPerKelvin } };
  }
  const { knownPpmPerKelvin, uncertaintyPpmPerKelvin } = coefficient;
  return { ...rest, coefficient: { kind: 'known', ppmPerKelvin: knownPpmPerKelvin, uncertaintyPpmPerKelvin } };
}
