import * as z from 'zod';
import type { LotFacts } from '../inspection/event.ts';
import { factsOf, type LotClaim, lotClaim } from '../inspection/lotClaim.ts';
import { byAql, PLAN_CLAIMS, PLAN_EXPECTED } from '../inspection/planClaim.ts';
import { lineOfText, namedText } from '../inspection/text.ts';

/** Severity and who overrides it belong to a lot; a part only says by which tables. */
const [, ...otherPlans] = PLAN_CLAIMS;
const byAqlOfPart = byAql.omit({ severity: true, override: true });

/** The most parts that are kept: finding one by typing stays quick (measured) and the file small enough to be written whole. */
export const MOST_PARTS = 20_000;

/** A part number without characters that show nothing, letters composed in one way. */
export function withoutUnseen(number: string): string {
  return number.replace(/\p{Cf}/gu, '').normalize('NFC');
}

/**
 * A part: everything a lot of it claims beside the lot itself, so that choosing it fills the receiving form. Values are texts
 * as an engineer writes them, as in a lot's claim. A study is no plan of a part.
 */
export const part = lotClaim.omit({ inspector: true, part: true, lot: true, plan: true, positions: true }).extend({
  ...lotClaim.shape.part.shape,
  /**
   * What it is known by. Numbers that look the same are the same: scanners and keyboards compose letters differently, and what is
   * copied brings characters that are not to be seen.
   */
  number: lineOfText.overwrite(withoutUnseen).trim().min(1, 'must not be empty'),
  // The ohm sign and the omega look the same, too.
  nominal: lineOfText.normalize('NFC').default(''),
  tolerance: namedText.normalize('NFC'),
  plan: z.union([byAqlOfPart, ...otherPlans], { error: PLAN_EXPECTED }).prefault({ aql: '1.0' }),
  /** Where along the reel pieces are taken. A seed belongs to a lot, never to a part. */
  positions: z.enum(['random', 'spread', 'as-taken']).default('random'),
  /** Name of the reference resistor that the check of the bench offers first; empty where none is preferred. */
  reference: lineOfText.default(''),
  /** Who delivers it as a rule; empty where several do. */
  supplier: lineOfText.default(''),
});

/** A part as it may be written (defaults left out). */
export type PartInput = z.input<typeof part>;
export type Part = z.output<typeof part>;

/** The lot's claim that a part, a lot of it and who inspects it make together; a seed of positions is still to be drawn. */
export function claimOfPart(known: Part, lot: LotClaim['lot'], inspector: string): LotClaim {
  const { number, description, nominal, tolerance, ratedWatts, reference: _, supplier: __, positions, ...rest } = known;
  const itself = { number, description, nominal, tolerance, ...(ratedWatts !== undefined && { ratedWatts }) };
  return { inspector, part: itself, lot, positions: { kind: positions }, ...rest };
}

/** A lot that no AQL's sample is larger than. */
const LARGE_LOT = 1_000_000;

/**
 * What a part means: its window, plan and the rest as a lot of it would have them.
 * @throws the problems of factsOf, as those of a lot of it would be
 */
export function meaningOf(known: Part): LotFacts {
  const size = 'sampleSize' in known.plan ? Math.max(1, known.plan.sampleSize) : LARGE_LOT;
  const claim = claimOfPart(known, { number: '-', supplier: '', reel: '', size }, '-');
  return factsOf({ ...claim, positions: { kind: 'as-taken' } });
}

const PLAINEST = part.parse({ number: '-', tolerance: '-' });

/** The part without what is as usual: much shorter, and `part` reads the very same part from it. */
export function briefly(known: Part): PartInput {
  const usual = PLAINEST as Record<string, unknown>;
  const unusual = Object.entries(known).filter(
    ([field, value]) =>
      field === 'number' || field === 'tolerance' || JSON.stringify(value) !== JSON.stringify(usual[field]),
  );
  return Object.fromEntries(unusual) as PartInput;
}
