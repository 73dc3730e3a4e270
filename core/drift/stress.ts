import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain, subtract } from '../quantity/decimal.ts';
import { formatStressLimit, limitOhms, type StressLimit } from './stressLimit.ts';

/** What a numbered piece read. */
export interface PieceValue {
  /** Its number or mark. 7, "7" and " 007" are the same piece. */
  piece: string | number;
  /** Null for an open piece, which has no value. */
  ohms: DecimalText | null;
  /** Expanded uncertainty (k = 2) of the value; left out or null where it is not known. */
  expandedOhms?: DecimalText | null;
}

/** One piece before and after. */
export interface StressedPiece {
  piece: string;
  beforeOhms: DecimalText;
  /** Null: the piece is open now. */
  afterOhms: DecimalText | null;
  /** Expanded uncertainty of the two values; null where it is not known. */
  beforeExpandedOhms: DecimalText | null;
  afterExpandedOhms: DecimalText | null;
  /** ΔR, after less before, exact; null of an open piece. */
  changeOhms: DecimalText | null;
  /** ΔR/R in per cent of the first value, rounded to 5 decimals (0.1 ppm); null of an open piece or of a first value of 0 or below. */
  changePercent: DecimalText | null;
  /** The most |ΔR| may be, exact. */
  limitOhms: DecimalText;
  /** |ΔR| is at most the limit. An open piece is not within. */
  within: boolean;
  /** |ΔR| is nearer to the limit than the uncertainty of a difference; null where that is not known. */
  uncertain: boolean | null;
}

/** A comparison with where its values are from, in words. */
export interface ComparedSources extends StressResult {
  beforeSource: string;
  afterSource: string;
  /** True where values of the simulated bench are among them. */
  practice: boolean;
}

export interface StressResult {
  treatment: string;
  limit: StressLimit;
  /** `±(0.25 % + 0.05 Ω)` */
  limitText: string;
  /** Pieces that can be compared, in the order of the first list. */
  pieces: StressedPiece[];
  /** Pieces that were not measured after the treatment, and such as were not before it. */
  missing: string[];
  extra: string[];
  /** Pieces that were open before the treatment already: nothing of them can be compared. */
  openBefore: string[];
  /** How many changed by more than the limit, and in how many it is nearer than the uncertainty. */
  beyond: number;
  uncertain: number;
  /** The piece that changed most beside its limit; an open one before all others. Null where none changed. */
  worst: string | null;
  /** ΔR/R of least and largest, by sign, and mean, in per cent; null where no piece has one. */
  change: { lowestPercent: DecimalText; highestPercent: DecimalText; meanPercent: DecimalText } | null;
  /** False as soon as one piece is beyond; null where none is, but some could not be compared. */
  holds: boolean | null;
  /** What it comes to, in a sentence. */
  words: string;
  /** What limits it, in words. */
  notes: string[];
}

export interface Stress {
  /** What was done to the pieces between: heat, load, solder, storage, or in other words. */
  treatment: string;
  limit: StressLimit;
  before: readonly PieceValue[];
  after: readonly PieceValue[];
}

const PERCENT_DECIMALS = 5;
/** Named one by one up to here. */
const MOST_NAMED = 20;

/**
 * The same numbered pieces before and after a treatment: ΔR of each against ±(x % + y Ω), x % of its own first value, the
 * limit itself being allowed. Source: IEC 60115-1, form of the limits (from memory).
 * @throws problems stress-piece-twice, stress-without-pairs
 */
export function stressResult({ treatment, limit, before, after }: Stress): StressResult {
  const firsts = byPiece(before, 'before');
  const lasts = byPiece(after, 'after');
  const openBefore: string[] = [];
  const pieces: StressedPiece[] = [];
  for (const [piece, first] of firsts) {
    const last = lasts.get(piece);
    if (first.ohms === null) openBefore.push(piece);
    else if (last !== undefined) pieces.push(compare(piece, { ...first, ohms: first.ohms }, last, limit));
  }
  const missing = [...firsts]
    .filter(([piece, first]) => !lasts.has(piece) && first.ohms !== null)
    .map(([piece]) => piece);
  const extra = [...lasts.keys()].filter((piece) => !firsts.has(piece));
  if (pieces.length === 0) throw problem('stress-without-pairs');

  const beyond = pieces.filter(({ within }) => !within).length;
  const uncertain = pieces.filter((piece) => piece.uncertain === true).length;
  const holds = beyond > 0 ? false : missing.length + openBefore.length > 0 ? null : true;
  const result = { treatment, limit, limitText: formatStressLimit(limit), pieces, missing, extra, openBefore };
  const worst = worstOf(pieces);
  const all = { ...result, beyond, uncertain, worst: worst?.piece ?? null, change: changeOf(pieces), holds };
  return { ...all, words: wordsFor(all, worst), notes: notesOf(all) };
}

/** The number or mark of a piece as it is compared: without blanks around, and without zeros before a number. */
export function pieceName(piece: string | number): string {
  const name = String(piece).normalize('NFC').trim();
  return /^\d+$/.test(name) ? name.replace(/^0+(?=\d)/, '') : name;
}

function byPiece(values: readonly PieceValue[], when: 'before' | 'after'): Map<string, PieceValue> {
  const found = new Map<string, PieceValue>();
  for (const value of values) {
    const piece = pieceName(value.piece);
    if (found.has(piece)) throw problem('stress-piece-twice', piece, when);
    found.set(piece, value);
  }
  return found;
}

function compare(
  piece: string,
  { ohms: first, expandedOhms: firstU = null }: PieceValue & { ohms: DecimalText },
  { ohms: last, expandedOhms: lastU = null }: PieceValue,
  limit: StressLimit,
): StressedPiece {
  const most = limitOhms(limit, first);
  const values = { piece, beforeOhms: first, afterOhms: last, beforeExpandedOhms: firstU, afterExpandedOhms: lastU };
  if (last === null) {
    return { ...values, changeOhms: null, changePercent: null, limitOhms: plain(most), within: false, uncertain: null };
  }
  const change = subtract(last, first);
  const size = new Big(change).abs();
  return {
    ...values,
    changeOhms: change,
    changePercent: shareOf(change, first),
    limitOhms: plain(most),
    within: size.lte(most),
    uncertain: firstU === null || lastU === null ? null : isNear(size, most, firstU, lastU),
  };
}

function shareOf(change: DecimalText, first: DecimalText): DecimalText | null {
  if (new Big(first).lte(0)) return null;
  return Dividing(change).times(100).div(first).toFixed(PERCENT_DECIMALS);
}

/** A constructor of our own, since big.js divides to the decimals set on the constructor of the dividend. Half to even. */
const Dividing = Big();
Dividing.DP = PERCENT_DECIMALS;
Dividing.RM = 2;

/** Whether a change is nearer to its limit than the two uncertainties in root sum of squares; √2·U where they are equal. By squares, which are exact. */
function isNear(size: Big, most: Big, firstU: DecimalText, lastU: DecimalText): boolean {
  const squares = new Big(firstU).pow(2).plus(new Big(lastU).pow(2));
  return squares.gt(0) && size.minus(most).pow(2).lte(squares);
}

/** The piece whose change is the largest share of its limit; the first of equals. */
function worstOf(pieces: readonly StressedPiece[]): StressedPiece | null {
  return pieces.reduce<StressedPiece | null>((worst, piece) => {
    if (worst === null) return piece.changeOhms !== null && new Big(piece.changeOhms).eq(0) ? null : piece;
    return isWorse(piece, worst) ? piece : worst;
  }, null);
}

/** Shares compared by cross multiplication, which is exact and needs no limit above 0. */
function isWorse(piece: StressedPiece, than: StressedPiece): boolean {
  if (than.changeOhms === null || piece.changeOhms === null) return than.changeOhms !== null;
  const [size, other] = [new Big(piece.changeOhms).abs(), new Big(than.changeOhms).abs()];
  const [share, otherShare] = [size.times(than.limitOhms), other.times(piece.limitOhms)];
  return share.eq(otherShare) ? size.gt(other) && new Big(piece.limitOhms).lte(than.limitOhms) : share.gt(otherShare);
}

function changeOf(pieces: readonly StressedPiece[]): StressResult['change'] {
  const changes = pieces.flatMap(({ changePercent }) => (changePercent === null ? [] : [new Big(changePercent)]));
  const [first] = changes;
  if (first === undefined) return null;
  const sum = changes.reduce((total, each) => total.plus(each), new Big(0));
  return {
    lowestPercent: changes.reduce((least, each) => (each.lt(least) ? each : least), first).toFixed(PERCENT_DECIMALS),
    highestPercent: changes.reduce((most, each) => (each.gt(most) ? each : most), first).toFixed(PERCENT_DECIMALS),
    meanPercent: Dividing(sum).div(changes.length).toFixed(PERCENT_DECIMALS),
  };
}

type Compared = Omit<StressResult, 'words' | 'notes'>;

function wordsFor(
  { treatment, limitText, pieces, missing, openBefore, beyond, holds }: Compared,
  worst: StressedPiece | null,
): string {
  const count = pieces.length === 1 ? '1 piece' : `${pieces.length} pieces`;
  const left = missing.length + openBefore.length;
  if (holds === true)
    return `After ${treatment} ${allOf(pieces.length)} changed by no more than ${limitText}.${worstWords(worst)}`;
  if (holds === null) {
    return `After ${treatment} none of ${count} compared changed by more than ${limitText}, but ${left === 1 ? '1 piece' : `${left} pieces`} could not be compared: nothing is shown of the whole.${worstWords(worst)}`;
  }
  const those = pieces.filter(({ within }) => !within).map(({ piece }) => piece);
  return `After ${treatment} ${beyond} of ${count} changed by more than ${limitText}: ${named(those)}.${worstWords(worst)}`;
}

function worstWords(worst: StressedPiece | null): string {
  if (worst === null) return ' None changed at all.';
  const { piece, changeOhms, changePercent, limitOhms: most } = worst;
  if (changeOhms === null) return ` Worst: piece ${piece}, which is open.`;
  const share = changePercent === null ? '' : ` (${changePercent} %)`;
  return ` Worst: piece ${piece}, by ${changeOhms} Ω${share} where ${most} Ω are allowed.`;
}

function allOf(count: number): string {
  if (count === 1) return 'the one piece';
  return count === 2 ? 'both pieces' : `all ${count} pieces`;
}

function notesOf({ pieces, missing, extra, openBefore, uncertain }: Compared): string[] {
  const open = pieces.filter(({ afterOhms }) => afterOhms === null).map(({ piece }) => piece);
  const close = pieces.filter((piece) => piece.uncertain === true).map(({ piece }) => piece);
  const zero = pieces.filter(({ beforeOhms }) => new Big(beforeOhms).lte(0)).map(({ piece }) => piece);
  const unknown = pieces.some((piece) => piece.uncertain === null && piece.afterOhms !== null);
  return [
    ...(missing.length > 0 ? [`Not measured after the treatment: ${named(missing)}.`] : []),
    ...(extra.length > 0 ? [`Not measured before the treatment, and left out: ${named(extra)}.`] : []),
    ...(openBefore.length > 0 ? [`Open before the treatment already, so not compared: ${named(openBefore)}.`] : []),
    ...(open.length > 0 ? [`Open after the treatment, so beyond any limit: ${named(open)}.`] : []),
    ...(zero.length > 0
      ? [`A first value of 0 Ω or below has no ΔR/R, and its limit is the ohms alone: ${named(zero)}.`]
      : []),
    ...(uncertain > 0
      ? [
          `Nearer to the limit than the uncertainty of a difference (√2 U), so within or beyond is not sure: ${named(close)}. What both readings have in common, as the same meter and leads, cancels; √2 U counts it in and errs on the side of caution.`,
        ]
      : []),
    ...(unknown
      ? ['The uncertainty of the values is not known for all pieces, so it is not said how sure the verdicts are.']
      : []),
  ];
}

function named(pieces: readonly string[]): string {
  const one = pieces.length === 1 ? 'piece' : 'pieces';
  if (pieces.length <= MOST_NAMED) return `${one} ${pieces.join(', ')}`;
  return `${one} ${pieces.slice(0, MOST_NAMED).join(', ')} and ${pieces.length - MOST_NAMED} more`;
}
