import { type DecimalText, plain } from '../quantity/decimal.ts';
import { parseOhms } from '../quantity/parseOhms.ts';
import { type PartInput, withoutUnseen } from './part.ts';

/** A parts list made ready for finding. Made once; finding in it takes some milliseconds with 20 000 parts (measured). */
export interface PartsIndex {
  readonly entries: readonly Indexed[];
  readonly byNumber: ReadonlyMap<string, PartInput>;
  /** By number in small letters; null where only capitals tell several apart. */
  readonly bySmall: ReadonlyMap<string, PartInput | null>;
}

interface Indexed {
  part: PartInput;
  number: string;
  /** Everything that may be typed to find it, in small letters, also without what separates letters and digits. */
  words: string;
  ohms: DecimalText | null;
}

/** Parts that were found: the first of them in order of likelihood, and how many there are in all. */
export interface PartsFound {
  first: readonly PartInput[];
  count: number;
}

/** Makes a parts list ready for finding. */
export function indexParts(parts: readonly PartInput[]): PartsIndex {
  // Some hundred different values, however many parts.
  const known = new Map<string, DecimalText | null>();
  const entries = parts.map((part) => {
    const { number, description = '', nominal = '', tolerance, supplier = '', reference = '' } = part;
    const ohms = known.get(nominal) ?? ohmsOf(nominal);
    known.set(nominal, ohms);
    const small = folded(number);
    const without = [squeezed(small), tolerance.replace(/\s/g, '')];
    const words = folded([number, description, nominal, tolerance, supplier, reference, ...without].join('\n'));
    return { part, number: small, words, ohms };
  });
  const bySmall = new Map<string, PartInput | null>();
  for (const { part, number } of entries) bySmall.set(number, bySmall.has(number) ? null : part);
  return { entries, byNumber: new Map(parts.map((part) => [part.number, part])), bySmall };
}

/** A number and the blank before its unit or prefix: `4.7 k` and `5 %` are one word each. */
const NUMBER_AND_UNIT = /(?<=\d)\s+(%|[kKMGTm]?(?:Ω|ohms?)?(?!\S))/giu;

/**
 * Finds parts by what somebody types: every word of it must stand somewhere in the part (number, description, value, tolerance,
 * supplier, reference), or be its nominal value written in another way: `4700` finds `4k7`. Capitals do not matter. First those
 * whose number is just that, then those whose number begins so, then those whose number holds it or whose value it is, then the
 * others; each in the order of the list.
 * @param typed nothing: all parts, in order
 * @param most how many are wanted
 */
export function findParts({ entries }: PartsIndex, typed: string, most: number): PartsFound {
  const written = typed.trim();
  if (written === '') return { first: entries.slice(0, most).map(({ part }) => part), count: entries.length };
  const sought = folded(written);
  const words = written.replace(NUMBER_AND_UNIT, '$1').split(/\s+/).map(soughtOf);
  const byRank: PartInput[][] = [[], [], [], []];
  let count = 0;
  for (const entry of entries) {
    if (!words.every((word) => isIn(entry, word))) continue;
    count += 1;
    const rank = rankOf(entry, sought, words);
    if ((byRank[rank]?.length ?? 0) < most) byRank[rank]?.push(entry.part);
  }
  return { first: byRank.flat().slice(0, most), count };
}

/** The part whose number is just what was typed or scanned; where only capitals differ, the only such one. */
export function partNumbered({ byNumber, bySmall }: PartsIndex, typed: string): PartInput | null {
  const number = withoutUnseen(typed).trim();
  return byNumber.get(number) ?? bySmall.get(folded(number)) ?? null;
}

interface Sought {
  word: string;
  squeezed: string;
  ohms: DecimalText | null;
}

/** The value is read before capitals go: `3M3` is not `3m3`. */
function soughtOf(written: string): Sought {
  const word = folded(written);
  const without = squeezed(word);
  return { word, squeezed: without === word ? '' : without, ohms: ohmsOf(written) };
}

/** A letter or two without their dashes stand in almost every part. */
const LEAST_SQUEEZED = 3;

function isIn(entry: Indexed, sought: Sought): boolean {
  if (entry.words.includes(sought.word)) return true;
  if (sought.squeezed.length >= LEAST_SQUEEZED && entry.words.includes(sought.squeezed)) return true;
  return sought.ohms !== null && entry.ohms === sought.ohms;
}

function rankOf({ number, ohms }: Indexed, sought: string, words: readonly Sought[]): number {
  if (number === sought) return 0;
  if (number.startsWith(sought)) return 1;
  return number.includes(sought) || words.some((word) => word.ohms !== null && word.ohms === ohms) ? 2 : 3;
}

/** Small letters, wide forms as narrow ones. */
const folded = (text: string): string => text.normalize('NFKC').toLowerCase();

/** Without dashes, dots and strokes, which are written in one place and left out in another. */
const squeezed = (text: string): string => text.replace(/[^\p{L}\p{N}]+/gu, '');

function ohmsOf(text: string): DecimalText | null {
  try {
    return plain(parseOhms(text));
  } catch {
    return null;
  }
}
