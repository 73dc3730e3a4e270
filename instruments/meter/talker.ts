import { type Problem, problem } from '../../core/problem/problem.ts';
import type { Connection } from '../transport/connection.ts';
import { Lines } from '../transport/lines.ts';
import { readValue, type Said, splitAnswer } from './answerForm.ts';
import { functionsOf, type MeterFunction, type TalkerDialect } from './dialect.ts';
import type { Hands } from './hands.ts';
import { type Identity, NOT_TOLD, readIdentity } from './identity.ts';
import type { Meter, MeterSetting, MeterSettingFound, OtherReading, Reading } from './meter.ts';
import { Pace } from './pace.ts';

/**
 * - unsynchronised: lines came that can't be read, none at all, or only the end of one
 * - ready: the last two lines could be read
 * - lost: the connection ended without our doing, or the meter fell silent for long
 * - closed: ended by us
 */
type TalkerState = 'unsynchronised' | 'ready' | 'lost' | 'closed';

/** One whole line that could be read. */
interface Heard {
  said: string;
  /** The function its unit shows; null for a word for overload without a unit. */
  function: MeterFunction | null;
  value: Said;
}

/** Somebody waits for a line: the last of `left` whole lines that come one after the other and can all be read. */
interface Waiter {
  left: number;
  /** When it was asked for. */
  since: number;
  /** It was asked for in the middle of a line, whose end does not count. */
  isMidLine: boolean;
  /** Any line will do that was not held back somewhere, whenever it began. */
  isGlance: boolean;
  resolve: (line: Heard) => void;
  reject: (why: Problem) => void;
}

export interface TalkerOptions {
  /** What a simulated bench has instead of a person's hands. */
  hands: Hands | null;
  /** Who it is, where that is known without asking; else it is not told. */
  identity?: string;
  /** The connection is lost; called once, never for a meter closed here. */
  onLost: (why: Problem) => void;
}

/** Between the bytes of one line there is never such a pause, and adapters hold bytes back for less. */
const BETWEEN_LINES_MILLISECONDS = 50;
const READABLE_IN_A_ROW = 2;
/** The second line that began after a reading was asked for. */
const WHOLE_LINES = 2;
/** As many silences in a row, and it counts as gone. */
const SILENCES_BEFORE_LOST = 3;
const LONGEST_SHOWN = 80;

/**
 * Takes a meter into use that sends its readings unasked: two readable lines in a row must come first.
 * @throws {Problem} meter-silent, answer-unreadable, meter-lost
 */
export async function prepareTalker(
  connection: Connection,
  dialect: TalkerDialect,
  options: TalkerOptions,
): Promise<Talker> {
  const talker = new Talker(connection, dialect, options);
  try {
    await talker.begin();
    return talker;
  } catch (failure) {
    await talker.close();
    throw failure;
  }
}

/**
 * A meter that talks by itself. Nothing can be asked, so a line can't be paired with a question; it is paired with time.
 * A reading is the second whole line that began after it was asked for: the first may have been measured before the
 * piece was in place. A line in the middle of which it was asked for is not one of the two.
 */
export class Talker implements Meter {
  readonly identity: Identity;
  readonly dialect: string;
  readonly measures: readonly MeterFunction[];
  readonly hands: Hands | null;
  readonly isSetByHand = true;
  readonly hasTrigger = false;
  readonly #words: TalkerDialect;
  readonly #lines: Lines;
  readonly #onLost: (why: Problem) => void;
  readonly #pace = new Pace();
  #state: TalkerState = 'unsynchronised';
  #endedBy = '';
  #readableInARow = 0;
  /** The first line may be the end of one that began before the line was open; so may be one after bytes were dropped. */
  #isFirst = true;
  /** The function the last unit showed. */
  #function: MeterFunction | null = null;
  #lastByteAt = performance.now();
  #wanted: MeterSetting['function'] | null = null;
  #waiters: Waiter[] = [];
  #silence: NodeJS.Timeout | undefined;
  #silences = 0;

  constructor(connection: Connection, dialect: TalkerDialect, options: TalkerOptions) {
    this.#words = dialect;
    this.dialect = dialect.name;
    this.measures = functionsOf(dialect);
    this.hands = options.hands;
    this.identity = readIdentity(options.identity ?? NOT_TOLD);
    this.#onLost = options.onLost;
    connection.duplex.on('data', () => {
      this.#lastByteAt = performance.now();
    });
    this.#lines = new Lines(connection, {
      line: (text) => this.#line(text),
      overlong: (bytes) => this.#unreadable(problem('answer-too-long', bytes), true),
      lost: (why) => this.#lost(why),
    });
    this.#watchSilence();
  }

  get state(): TalkerState {
    return this.#state;
  }

  /** Waits until the meter is heard, past lines that can't be read, for as long as a slow meter needs for a few. */
  async begin(): Promise<void> {
    const began = performance.now();
    const milliseconds = this.#pace.silenceMilliseconds;
    for (;;) {
      try {
        await this.#next({ isMidLine: false, isGlance: false });
        return;
      } catch (failure) {
        if (this.#state !== 'unsynchronised' || performance.now() - began > milliseconds) throw failure;
      }
    }
  }

  async askIdentity(): Promise<string> {
    return this.identity.text;
  }

  /** There is nothing to set: what the meter sends must be of the function asked for already. */
  async configure(setting: MeterSetting): Promise<MeterSettingFound> {
    const words = this.#words.functions[setting.function];
    if (!words) throw problem('function-missing', setting.function, this.dialect);
    const cycles = words.fixedCycles ?? 0;
    if (cycles < setting.integrationCycles) {
      throw problem('setting-not-taken', 'integration cycles', String(setting.integrationCycles), String(cycles));
    }
    this.#wanted = setting.function;
    this.#expectFunction(setting.function, await this.#fresh());
    return { function: setting.function, range: 'auto', rangeOhms: null, integrationCycles: String(cycles) };
  }

  async read(): Promise<Reading> {
    if (!this.#wanted) throw new Error('the meter is read before it is set');
    return this.#readingOf(this.#wanted, await this.#fresh());
  }

  async glance(): Promise<Reading> {
    if (!this.#wanted) throw new Error('the meter is read before it is set');
    return this.#readingOf(this.#wanted, await this.#next({ isMidLine: false, isGlance: true }));
  }

  /** It chooses its range itself, or a person does. */
  glanceOnAnyRange(): Promise<Reading> {
    return this.glance();
  }

  async awaitTrigger(): Promise<never> {
    throw problem('trigger-missing', this.dialect);
  }

  async readOther(wanted: MeterFunction): Promise<OtherReading> {
    if (!this.measures.includes(wanted)) throw problem('function-missing', wanted, this.dialect);
    const reading = this.#readingOf(wanted, await this.#fresh());
    return { raw: reading.raw, said: reading.said, value: reading.kind === 'value' ? reading.ohms : null };
  }

  async close(): Promise<void> {
    this.#end('closed', 'it was closed here');
    await this.#lines.close();
  }

  #readingOf(wanted: MeterFunction, line: Heard): Reading {
    this.#expectFunction(wanted, line);
    const { value, said } = line;
    if (value.kind === 'not-a-number') throw problem('answer-not-a-number', 'unasked');
    return value.kind === 'value'
      ? { kind: 'value', ohms: value.text, raw: value.raw, said }
      : { kind: 'overload', raw: value.raw, said };
  }

  /** The second whole line that begins from now on. */
  #fresh(): Promise<Heard> {
    const isMidLine = performance.now() - this.#lastByteAt < BETWEEN_LINES_MILLISECONDS;
    return this.#next({ isMidLine, isGlance: false });
  }

  async #next(which: Pick<Waiter, 'isMidLine' | 'isGlance'>): Promise<Heard> {
    this.#expectConnected();
    return new Promise((resolve, reject) => {
      this.#waiters.push({ left: WHOLE_LINES, since: performance.now(), ...which, resolve, reject });
    });
  }

  #expectConnected(): void {
    if (this.#state === 'lost' || this.#state === 'closed') throw problem('meter-lost', this.#endedBy);
  }

  #expectFunction(wanted: MeterFunction, line: Heard): void {
    // A word for overload without a unit is of the function that the unit before it showed.
    const found = line.function ?? this.#function ?? wanted;
    if (found !== wanted) throw problem('function-changed', wanted, found);
  }

  #line(text: string): void {
    const now = performance.now();
    const inBurst = this.#pace.note(now);
    this.#watchSilence();
    this.#silences = 0;
    if (this.#isFirst) {
      this.#isFirst = false;
      return;
    }
    const line = this.#understand(text);
    if (!line) {
      this.#unreadable(problem('answer-unreadable', 'unasked', text.slice(0, LONGEST_SHOWN)), false);
      return;
    }
    this.#readableInARow++;
    this.#function = line.function ?? this.#function;
    if (this.#readableInARow >= READABLE_IN_A_ROW) this.#state = 'ready';
    for (const waiter of this.#waiters) count(waiter, now, inBurst);
    if (this.#state !== 'ready') return;
    for (const waiter of this.#take((each) => each.left <= 0)) waiter.resolve(line);
  }

  #understand(text: string): Heard | null {
    const { talker, functions } = this.#words;
    const parts = splitAnswer(talker, text);
    if (!parts) return null;
    const { unit, value } = parts;
    const found =
      unit === null ? null : this.measures.find((name) => Object.hasOwn(functions[name]?.units ?? {}, unit));
    if (found === undefined) return null;
    const multiplier = found !== null && unit !== null ? functions[found]?.units[unit] : 1;
    const read = readValue(talker, value, multiplier ?? 1);
    return read && { said: text, function: found, value: read };
  }

  #unreadable(why: Problem, restDropped: boolean): void {
    this.#state = 'unsynchronised';
    this.#readableInARow = 0;
    this.#isFirst = restDropped;
    for (const waiter of this.#take(() => true)) waiter.reject(why);
  }

  #take(which: (waiter: Waiter) => boolean): Waiter[] {
    const taken = this.#waiters.filter(which);
    this.#waiters = this.#waiters.filter((waiter) => !taken.includes(waiter));
    return taken;
  }

  #watchSilence(): void {
    clearTimeout(this.#silence);
    const milliseconds = this.#pace.silenceMilliseconds;
    this.#silence = setTimeout(() => {
      this.#unreadable(problem('meter-silent', 'with a reading', milliseconds), true);
      this.#silences++;
      if (this.#silences < SILENCES_BEFORE_LOST) this.#watchSilence();
      else this.#lost(`it has sent nothing for ${SILENCES_BEFORE_LOST * milliseconds} ms`);
    }, milliseconds);
  }

  #lost(why: string): void {
    if (this.#state === 'lost' || this.#state === 'closed') return;
    this.#end('lost', why);
    this.#lines.close();
    this.#onLost(problem('meter-lost', why));
  }

  #end(state: 'lost' | 'closed', why: string): void {
    clearTimeout(this.#silence);
    if (this.#state === 'lost' && state === 'closed') return;
    this.#state = state;
    this.#endedBy = why;
    for (const waiter of this.#take(() => true)) waiter.reject(problem('meter-lost', why));
  }
}

/** A line that may have begun, or lain in some buffer, before it was asked for does not count. */
function count(waiter: Waiter, now: number, inBurst: boolean): void {
  if (waiter.isGlance) waiter.left = inBurst ? WHOLE_LINES : 0;
  else if (inBurst) waiter.left = WHOLE_LINES;
  else if (waiter.isMidLine) waiter.isMidLine = false;
  else if (now - waiter.since >= BETWEEN_LINES_MILLISECONDS || waiter.left < WHOLE_LINES) waiter.left--;
}
