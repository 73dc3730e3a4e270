import type { DecimalText } from '../quantity/decimal.ts';
import type { Verdict } from '../window/judge.ts';
import type { Reading, Uncertainty } from './run.ts';

/** Texts that begin and end alike, and what stands between that in each: with a space between them, or a list where one holds a space. */
interface Texts {
  begin: string;
  end: string;
  between: string | string[];
}

/** Values of which few are different: these, and for each reading the place of its own as one character. */
interface Repeated<T> {
  of: T[];
  codes: string;
}

/** Numbers of which each is mostly one more than the one before: `[first, count, first, count, …]`; null stays null. */
type Stretches = (number | null)[];

/** What holds of a few readings only: of `count` of them from `first` on, counted within the page from 0. */
interface Marked<T> {
  first: number;
  count: number;
  value: T;
}

/** Some readings of a run, column by column: plain data, which JSON carries as it is. */
export interface PackedReadings {
  /** How many readings of the run come before these. */
  from: number;
  count: number;
  piece: Stretches;
  position: Stretches;
  at: Texts;
  raw: Texts;
  /** Empty for an overload. */
  ohms: Texts;
  zeroOhms: Repeated<DecimalText>;
  temperatureOhms: Repeated<DecimalText>;
  uncertainty: Repeated<Uncertainty | null>;
  verdict: Repeated<Verdict>;
  voided: Marked<NonNullable<Reading['voided']>>[];
  suspect: Marked<NonNullable<Reading['suspect']>>[];
}

/** Of a reading what it showed and how it stands. That is unpacked in a third of the time of all of it. */
export type Judged = Pick<Reading, 'reading' | 'piece' | 'position' | 'ohms' | 'verdict' | 'voided' | 'suspect'>;

/** Of a page what it takes for that. */
export type PackedJudged = Pick<PackedReadings, 'from' | 'count' | Exclude<keyof Judged, 'reading'>>;

/**
 * Packs readings that follow each other. Their numbers are their places (`reading` is place + 1).
 * @param from how many readings of the run come before
 */
export function packed(readings: Iterable<Reading>, from: number): PackedReadings {
  const [at, raw, ohms]: [string[], string[], string[]] = [[], [], []];
  const [piece, position] = [new StretchColumn(), new StretchColumn()];
  const [zeroOhms, temperatureOhms] = [new RepeatedColumn<DecimalText>(), new RepeatedColumn<DecimalText>()];
  const [uncertainty, verdict] = [new RepeatedColumn<Uncertainty | null>(), new RepeatedColumn<Verdict>()];
  const voided = new MarkedColumn<NonNullable<Reading['voided']>>();
  const suspect = new MarkedColumn<NonNullable<Reading['suspect']>>();
  let place = 0;
  for (const reading of readings) {
    piece.add(reading.piece);
    position.add(reading.position);
    at.push(reading.at);
    raw.push(reading.raw);
    ohms.push(reading.ohms ?? '');
    zeroOhms.add(reading.zeroOhms, reading.zeroOhms);
    temperatureOhms.add(reading.temperatureOhms, reading.temperatureOhms);
    uncertainty.add(keyOf(reading.uncertainty), reading.uncertainty);
    verdict.add(reading.verdict, reading.verdict);
    if (reading.voided) voided.add(place, reading.voided);
    if (reading.suspect) suspect.add(place, reading.suspect);
    place++;
  }
  return {
    from,
    count: place,
    piece: piece.packed,
    position: position.packed,
    at: packedTexts(at),
    raw: packedTexts(raw),
    ohms: packedTexts(ohms),
    zeroOhms: zeroOhms.packed,
    temperatureOhms: temperatureOhms.packed,
    uncertainty: uncertainty.packed,
    verdict: verdict.packed,
    voided: voided.packed,
    suspect: suspect.packed,
  };
}

/** The readings of a page as they were packed, each by its place in the page from 0: it is made when it is asked for. */
export function unpacked(page: PackedReadings): (place: number) => Reading {
  const judged = judgedIn(page);
  const [at, raw] = [textsOf(page.at), textsOf(page.raw)];
  return (place) => {
    const { reading, piece, position, ohms, verdict, voided, suspect } = judged(place);
    return {
      reading,
      piece,
      position,
      at: at(place),
      raw: raw(place),
      ohms,
      zeroOhms: repeatedAt(page.zeroOhms, place),
      temperatureOhms: repeatedAt(page.temperatureOhms, place),
      uncertainty: repeatedAt(page.uncertainty, place),
      verdict,
      voided,
      suspect,
    };
  };
}

/** Of the readings of a page what they showed and how they stand, likewise. */
export function judgedIn(page: PackedJudged): (place: number) => Judged {
  const ohms = textsOf(page.ohms);
  const [piece, position] = [numbersOf(page.piece), numbersOf(page.position)];
  const [voided, suspect] = [marksOf(page.voided), marksOf(page.suspect)];
  return (place) => ({
    reading: page.from + place + 1,
    piece: piece(place) as number,
    position: position(place),
    ohms: ohms(place) || null,
    verdict: repeatedAt(page.verdict, place),
    voided: voided.get(place) ?? null,
    suspect: suspect.get(place) ?? null,
  });
}

const SEPARATOR = ' ';

function packedTexts(texts: readonly string[]): Texts {
  let [begin = ''] = texts;
  for (const text of texts) while (!text.startsWith(begin)) begin = begin.slice(0, -1);
  let end = (texts[0] ?? '').slice(begin.length);
  for (const text of texts) {
    while (text.length < begin.length + end.length || !text.endsWith(end)) end = end.slice(1);
  }
  const between = texts.map((text) => text.slice(begin.length, text.length - end.length));
  const joined = between.join(SEPARATOR);
  return { begin, end, between: countOf(SEPARATOR, joined) > texts.length - 1 && texts.length > 0 ? between : joined };
}

function countOf(sought: string, text: string): number {
  let count = 0;
  for (let at = text.indexOf(sought); at >= 0; at = text.indexOf(sought, at + 1)) count++;
  return count;
}

function textsOf({ begin, end, between }: Texts): (place: number) => string {
  const texts = typeof between === 'string' ? between.split(SEPARATOR) : between;
  return (place) => begin + texts[place] + end;
}

/** The first of the characters that stand for places: none of those after it in a page needs to be escaped, but the backslash. */
const FIRST_CODE = 0x23;

class RepeatedColumn<T> {
  readonly #places = new Map<string, number>();
  readonly #of: T[] = [];
  readonly #codes: string[] = [];
  #lastKey: string | null = null;
  #lastCode = '';

  /** @param key the same for equal values, and for no others */
  add(key: string, value: T): void {
    if (key !== this.#lastKey) {
      let place = this.#places.get(key);
      if (place === undefined) {
        place = this.#of.push(value) - 1;
        this.#places.set(key, place);
      }
      this.#lastKey = key;
      this.#lastCode = String.fromCharCode(FIRST_CODE + place);
    }
    this.#codes.push(this.#lastCode);
  }

  get packed(): Repeated<T> {
    return { of: this.#of, codes: this.#codes.join('') };
  }
}

function repeatedAt<T>({ of, codes }: Repeated<T>, place: number): T {
  return of[codes.charCodeAt(place) - FIRST_CODE] as T;
}

function keyOf(uncertainty: Uncertainty | null): string {
  return uncertainty === null ? '' : `${uncertainty.expandedOhms} ${uncertainty.coverageFactor}`;
}

class StretchColumn {
  readonly packed: (number | null)[] = [];
  #next: number | null | undefined;

  add(number: number | null): void {
    if (number === this.#next) (this.packed[this.packed.length - 1] as number)++;
    else this.packed.push(number, 1);
    this.#next = number === null ? null : number + 1;
  }
}

function numbersOf(stretches: Stretches): (place: number) => number | null {
  const [begins = null] = stretches;
  if (stretches.length <= 2) return (place) => (begins === null ? null : begins + place);
  const numbers: (number | null)[] = [];
  for (let index = 0; index < stretches.length; index += 2) {
    const first = stretches[index] as number | null;
    const count = stretches[index + 1] as number;
    for (let step = 0; step < count; step++) numbers.push(first === null ? null : first + step);
  }
  return (place) => numbers[place] as number | null;
}

class MarkedColumn<T extends object> {
  readonly packed: Marked<T>[] = [];

  add(place: number, value: T): void {
    const last = this.packed.at(-1);
    if (last && last.first + last.count === place && isSame(last.value, value)) last.count++;
    else this.packed.push({ first: place, count: 1, value });
  }
}

/** Whether two marks of the same kind say the same. */
function isSame<T extends object>(first: T, second: T): boolean {
  return (Object.keys(first) as (keyof T)[]).every((key) => first[key] === second[key]);
}

function marksOf<T>(marked: readonly Marked<T>[]): ReadonlyMap<number, T> {
  const marks = new Map<number, T>();
  for (const { first, count, value } of marked) {
    for (let place = first; place < first + count; place++) marks.set(place, value);
  }
  return marks;
}
