import { Map as ImmutableMap, List } from 'immutable';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Verdict } from '../window/judge.ts';
import { counts, type Happening, type Reading, type Run, type Uncertainty } from './run.ts';

/** Readings of one page: few enough that nobody who packs or unpacks one holds up anything else. */
export const PAGE = 32_768;

/** A run without its readings. All packed things are plain data, which JSON carries as it is. */
export interface PackedHead extends Omit<Run, 'readings' | 'history' | 'taken'> {
  history: Happening[];
  /** How many readings follow in pages. */
  readingCount: number;
}

/** Texts one behind the other with a space between; or a list, where one of them holds a space. */
type Texts = string | string[];

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

/** Some readings of a run, column by column. */
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

/** The run without its readings. */
export function packHead(run: Run): PackedHead {
  const { readings, history, taken, ...facts } = run;
  return { ...facts, history: history.toArray(), readingCount: readings.size };
}

/**
 * The readings of a run from a place on, as many as a page holds. Their numbers are their places (`reading` is place + 1).
 * @param from how many readings come before
 */
export function packReadings({ readings }: Pick<Run, 'readings'>, from: number, most = PAGE): PackedReadings {
  const page = readings.slice(from, from + most);
  const [at, raw, ohms] = [new TextColumn(), new TextColumn(), new TextColumn()];
  const [piece, position] = [new StretchColumn(), new StretchColumn()];
  const [zeroOhms, temperatureOhms] = [new RepeatedColumn<DecimalText>(), new RepeatedColumn<DecimalText>()];
  const [uncertainty, verdict] = [new RepeatedColumn<Uncertainty | null>(), new RepeatedColumn<Verdict>()];
  const [voided, suspect] = [new MarkedColumn<{ by: string }>(), new MarkedColumn<{ why: string }>()];
  let place = 0;
  for (const reading of page) {
    piece.add(reading.piece);
    position.add(reading.position);
    at.add(reading.at);
    raw.add(reading.raw);
    ohms.add(reading.ohms ?? '');
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
    at: at.packed,
    raw: raw.packed,
    ohms: ohms.packed,
    zeroOhms: zeroOhms.packed,
    temperatureOhms: temperatureOhms.packed,
    uncertainty: uncertainty.packed,
    verdict: verdict.packed,
    voided: voided.packed as PackedReadings['voided'],
    suspect: suspect.packed as PackedReadings['suspect'],
  };
}

/** Makes a run from what was packed: its head, then its pages in their order. */
export class Unpacking {
  readonly #head: PackedHead;
  #readings: List<Reading> = List();
  #taken: ImmutableMap<number, number> = ImmutableMap();

  constructor(head: PackedHead) {
    this.#head = head;
  }

  /** How many readings are there. */
  get size(): number {
    return this.#readings.size;
  }

  get isWhole(): boolean {
    return this.size === this.#head.readingCount;
  }

  /** @throws Error of a page that is not the next one: it would be a fault of ours */
  add(page: PackedReadings): void {
    if (page.from !== this.size) throw new Error(`the page of reading ${page.from + 1} came after ${this.size}`);
    const readings = unpackReadings(page);
    this.#readings = this.#readings.withMutations((list) => {
      for (const reading of readings) list.push(reading);
    });
    this.#taken = this.#taken.withMutations((taken) => {
      for (const reading of readings) {
        if (reading.position !== null && counts(reading)) taken.set(reading.position, reading.piece);
      }
    });
  }

  /** The run as it was packed. @throws Error where pages are missing */
  run(): Run {
    if (!this.isWhole) throw new Error(`${this.size} of ${this.#head.readingCount} readings are there`);
    const { readingCount, history, ...facts } = this.#head;
    return { ...facts, history: List(history), readings: this.#readings, taken: this.#taken };
  }
}

function unpackReadings(page: PackedReadings): Reading[] {
  const { from, count } = page;
  const [at, raw, ohms] = [textsOf(page.at), textsOf(page.raw), textsOf(page.ohms)];
  const [piece, position] = [numbersOf(page.piece), numbersOf(page.position)];
  const readings: Reading[] = [];
  for (let place = 0; place < count; place++) {
    readings.push({
      reading: from + place + 1,
      piece: piece[place] as number,
      position: position[place] as number | null,
      at: at[place] as string,
      raw: raw[place] as string,
      ohms: ohms[place] || null,
      zeroOhms: repeatedAt(page.zeroOhms, place),
      temperatureOhms: repeatedAt(page.temperatureOhms, place),
      uncertainty: repeatedAt(page.uncertainty, place),
      verdict: repeatedAt(page.verdict, place),
      voided: null,
      suspect: null,
    });
  }
  for (const { first, count: marked, value } of page.voided) {
    for (let place = first; place < first + marked; place++) (readings[place] as Reading).voided = value;
  }
  for (const { first, count: marked, value } of page.suspect) {
    for (let place = first; place < first + marked; place++) (readings[place] as Reading).suspect = value;
  }
  return readings;
}

const BETWEEN = ' ';

class TextColumn {
  // Added up, not joined: a third of the time.
  #text = '';
  #count = 0;
  #list: string[] | null = null;

  add(text: string): void {
    if (this.#list === null && text.includes(BETWEEN)) this.#list = textsOf(this.#text).slice(0, this.#count);
    if (this.#list) this.#list.push(text);
    else this.#text += this.#count === 0 ? text : BETWEEN + text;
    this.#count++;
  }

  get packed(): Texts {
    return this.#list ?? this.#text;
  }
}

function textsOf(texts: Texts): string[] {
  return typeof texts === 'string' ? texts.split(BETWEEN) : texts;
}

/** The first of the characters that stand for places: none of those after it in a page needs to be escaped, but the backslash. */
const FIRST_CODE = 0x23;

class RepeatedColumn<T> {
  readonly #places = new Map<string, number>();
  readonly #of: T[] = [];
  #codes = '';
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
    this.#codes += this.#lastCode;
  }

  get packed(): Repeated<T> {
    return { of: this.#of, codes: this.#codes };
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

function numbersOf(stretches: Stretches): (number | null)[] {
  const numbers: (number | null)[] = [];
  for (let index = 0; index < stretches.length; index += 2) {
    const first = stretches[index] as number | null;
    const count = stretches[index + 1] as number;
    for (let step = 0; step < count; step++) numbers.push(first === null ? null : first + step);
  }
  return numbers;
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
