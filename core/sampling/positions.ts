import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';
import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { mostPieces, type Plan } from './plan.ts';

/** The largest seed of the Mersenne twister: 32 bits. */
export const LARGEST_SEED = 0xffff_ffff;

/**
 * Where along the reel the pieces of the sample are taken.
 *
 * - `as-taken`: wherever the inspector takes them; a piece counts as the next one on the reel.
 * - `random`: drawn at random from the whole lot, with a recorded seed, 0 to 4 294 967 295.
 * - `spread`: equal thirds at the beginning, in the middle and at the end.
 */
export const positionsChoice = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('as-taken') }),
  z.strictObject({ kind: z.literal('random'), seed: z.number().int().min(0).max(LARGEST_SEED) }),
  z.strictObject({ kind: z.literal('spread') }),
]);

export type PositionsChoice = z.output<typeof positionsChoice>;

/** The most positions that are drawn. Our choice: nobody measures more by hand, and drawing them takes a second. */
export const MOST_DRAWN = 1_000_000;

/** A lot and its sample, as far as positions follow from them. */
export interface Sampled {
  positions: PositionsChoice;
  lot: { size: number };
  plan: Pick<Plan, 'sampleSize' | 'further'>;
}

/**
 * Where along the reel piece n of the sample is to be taken, from 1 to the lot's size, rising with n, so that a reel is
 * unwound once; null where nobody says (`as-taken`) and for a piece that is not of the sample.
 *
 * - Random: a simple random sample without replacement (MIL-STD-105E, 4.8: units selected at random), see {@link drawn}.
 * - Spread: of n pieces ⌊(n + 1) / 3⌋ are the first of the reel, as many are the last, and the rest lie in its middle, one
 *   beside the other (common practice). No random sample: the plan's probabilities do not hold for it in the strict sense.
 *
 * Where further pieces may be needed all of them are chosen like that at once, and the sample is a random part of them, in a spread one
 * an even part; each of the two rises by itself. So the sample alone is as good a sample as all together.
 * @param piece number of the piece in the sample, from 1
 */
export function positionOf(sampled: Sampled, piece: number): number | null {
  const { positions, lot, plan } = sampled;
  if (positions.kind === 'as-taken' || piece < 1 || piece > mostPieces(plan)) return null;
  if (plan.sampleSize === lot.size) return piece;
  if (mostPieces(plan) > plan.sampleSize) return inTwoParts(sampled)[piece - 1] ?? null;
  if (positions.kind === 'spread') return spreadPosition(lot.size, plan.sampleSize, piece);
  return drawnOnce(positions, lot.size, plan.sampleSize)[piece - 1] ?? null;
}

/** Whether a position is one that a piece of the sample, or a further one, is to be taken at. */
export function isAskedFor(sampled: Sampled, position: number): boolean {
  const { sampleSize } = sampled.plan;
  const most = mostPieces(sampled.plan);
  return isWithin(sampled, position, 1, sampleSize) || isWithin(sampled, position, sampleSize + 1, most);
}

/** Whether one of the pieces from `first` to `last`, whose positions rise, is asked for there. */
function isWithin(sampled: Sampled, position: number, first: number, last: number): boolean {
  let [from, to] = [first, last];
  while (from <= to) {
    const middle = Math.floor((from + to) / 2);
    const at = positionOf(sampled, middle);
    if (at === null || at === position) return at !== null;
    if (at < position) from = middle + 1;
    else to = middle - 1;
  }
  return false;
}

/** @throws problem positions-too-many where so many cannot be drawn */
export function mustBeDrawable({ positions, lot, plan }: Sampled): void {
  if (positions.kind === 'as-taken' || plan.sampleSize === lot.size) return;
  const most = mostPieces(plan);
  const isDrawn = positions.kind === 'random' || most > plan.sampleSize;
  if (isDrawn && most > MOST_DRAWN) throw problem('positions-too-many', most, MOST_DRAWN);
}

/** @param piece from 1 to sampleSize, which is below lotSize */
function spreadPosition(lotSize: number, sampleSize: number, piece: number): number {
  const atEachEnd = Math.floor((sampleSize + 1) / 3);
  const inMiddle = sampleSize - 2 * atEachEnd;
  if (piece <= atEachEnd) return piece;
  if (piece > atEachEnd + inMiddle) return lotSize - (sampleSize - piece);
  return Math.floor((lotSize - inMiddle) / 2) + (piece - atEachEnd);
}

const parts = new WeakMap<Sampled['plan'], { sampled: Sampled; inOrder: readonly number[] }>();

/** Positions of all pieces in the order they are taken: the sample's, then the further ones'. */
function inTwoParts(sampled: Sampled): readonly number[] {
  const { positions, lot, plan } = sampled;
  const known = parts.get(plan);
  if (known?.sampled.positions === positions && known.sampled.lot.size === lot.size) return known.inOrder;
  const most = mostPieces(plan);
  const all = Array.from({ length: most }, (_, index) =>
    positions.kind === 'random'
      ? (drawnOnce(positions, lot.size, most)[index] as number)
      : spreadPosition(lot.size, most, index + 1),
  );
  const isFirst = positions.kind === 'random' ? drawnPart(positions.seed, most, plan.sampleSize) : evenPart(most, plan);
  const inOrder = [...all.filter((_, index) => isFirst(index)), ...all.filter((_, index) => !isFirst(index))];
  parts.set(plan, { sampled, inOrder });
  return inOrder;
}

/** Another stream of the same seed, so that which pieces come first does not hang on where they lie. */
const OTHER_STREAM = 0x9e37_79b9;

function drawnPart(seed: number, most: number, sampleSize: number): (index: number) => boolean {
  const chosen = new Set(drawn((seed ^ OTHER_STREAM) >>> 0, most, sampleSize));
  return (index) => chosen.has(index + 1);
}

function evenPart(most: number, { sampleSize }: Sampled['plan']): (index: number) => boolean {
  const upTo = (index: number) => Math.floor((index * sampleSize) / most);
  return (index) => upTo(index + 1) > upTo(index);
}

const draws = new WeakMap<PositionsChoice, { lotSize: number; positions: Float64Array }>();

function drawnOnce(choice: Extract<PositionsChoice, { kind: 'random' }>, lotSize: number, count: number): Float64Array {
  const known = draws.get(choice);
  if (known?.lotSize === lotSize && known.positions.length === count) return known.positions;
  const positions = drawn(choice.seed, lotSize, count);
  draws.set(choice, { lotSize, positions });
  return positions;
}

/**
 * So many distinct numbers from 1 to lotSize, rising; every set of them is as likely as every other. The same for the same
 * seed always. Drawn by Floyd's method (Bentley and Floyd, Communications of the ACM 30, 1987, "A sample of brilliance") with
 * the Mersenne twister MT19937 (Matsumoto and Nishimura 1998), each number evenly by rejection (pure-rand).
 * @param count from 0 to lotSize
 */
export function drawn(seed: number, lotSize: number, count: number): Float64Array {
  const generator = mersenne(seed);
  const chosen = new Set<number>();
  for (let last = lotSize - count + 1; last <= lotSize; last++) {
    const position = uniformInt(generator, 1, last);
    chosen.add(chosen.has(position) ? last : position);
  }
  return Float64Array.from(chosen).sort();
}
