import Big from 'big.js';
import * as z from 'zod';
import { plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import { LEVELS } from '../sampling/codeLetter.ts';
import { type PlanChoice, planFor } from '../sampling/plan.ts';
import { parseTolerance } from '../window/parseTolerance.ts';
import { windowOf } from '../window/window.ts';
import type { LotFacts } from './event.ts';

/** Free text of one line: names, numbers, reasons. Control characters would break tables and terminals. */
export const lineOfText = z
  .string()
  .trim()
  .max(200, 'at most 200 characters')
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
  .regex(/^[^\u0000-\u001f\u007f-\u009f\u2028\u2029]*$/u, 'one line of text without control characters');

/** Free text that must not be empty. */
export const namedText = lineOfText.min(1, 'must not be empty');

/** Decimal text, as the record keeps it. */
const celsius = z.string().regex(/^-?\d{1,3}(\.\d{1,3})?$/, 'expected degrees Celsius as text, like "23"');

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
  }),
  lot: z.strictObject({
    number: namedText,
    supplier: lineOfText.default(''),
    size: pieces,
  }),
  plan: z.union(
    [
      z.strictObject({ aql: z.string(), level: z.enum(LEVELS).default('II') }),
      z.strictObject({ sampleSize: pieces, accept: pieces }),
    ],
    { error: 'expected { "aql": "1.0", "level": "II" } or { "sampleSize": 20, "accept": 0 }' },
  ),
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
});

/** A claim as it may be written (defaults left out). */
export type LotClaimInput = z.input<typeof lotClaim>;
export type LotClaim = z.output<typeof lotClaim>;

/**
 * Works out what the claim means: the window in exact decimals and the plan.
 * @throws the problems of parseOhms, parseTolerance, windowOf and planFor
 */
export function factsOf(claim: LotClaim): LotFacts {
  const nominal = claim.part.nominal === '' ? null : parseOhms(claim.part.nominal);
  const tolerance = parseTolerance(claim.part.tolerance);
  const choice: PlanChoice = 'aql' in claim.plan ? { kind: 'aql', ...claim.plan } : { kind: 'agreed', ...claim.plan };
  return {
    inspector: claim.inspector,
    part: {
      number: claim.part.number,
      description: claim.part.description,
      nominal: nominal && plain(nominal),
      tolerance,
    },
    window: windowOf(nominal, tolerance),
    lot: claim.lot,
    plan: planFor(claim.lot.size, choice),
    measurement: { ...claim.measurement, integrationCycles: plain(new Big(claim.measurement.integrationCycles)) },
    checks: claim.checks,
  };
}
