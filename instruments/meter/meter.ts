import Big from 'big.js';
import { Problem, problem } from '../../core/problem/problem.ts';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import type { Measured } from '../../core/window/judge.ts';
import type { Session } from '../scpi/session.ts';
import { type Hands, handsOf } from './hands.ts';
import { type Identity, readIdentity } from './identity.ts';

export type { Hands } from './hands.ts';
export type { Identity } from './identity.ts';

export interface MeterSetting {
  function: '2-wire' | '4-wire';
  /** A fixed range is asked for by a value it must cover, in ohms. */
  range: 'auto' | { coversOhms: string };
  /** Integration time in cycles of the mains. */
  integrationCycles: number;
}

/** The setting as the meter itself reports it. */
export interface MeterSettingFound {
  function: '2-wire' | '4-wire';
  range: 'auto' | 'fixed';
  /** Full scale of the range in use, in ohms; null if an auto-ranging meter does not say. */
  rangeOhms: string | null;
  integrationCycles: string;
}

export interface Meter {
  readonly identity: Identity;
  /** The hands of a simulated bench; null where a person's hands do it. */
  readonly hands: Hands | null;
  /**
   * Sets the meter and checks by its own words that it took the setting.
   * @throws {Problem} meter-error, setting-not-taken, answer-unreadable, meter-silent, meter-lost
   */
  configure(setting: MeterSetting): Promise<MeterSettingFound>;
  /**
   * Takes one reading.
   * @throws {Problem} meter-error if the meter refused, meter-silent if it said nothing, answer-unreadable,
   *   answer-not-a-number, answer-too-long, setting-not-taken, meter-lost
   */
  read(): Promise<Measured>;
  /** Gives the meter back to its front panel and frees the port. Never hangs. */
  close(): Promise<void>;
}

const QUERY_MILLISECONDS = 3000;
const WORDS = { '2-wire': 'RES', '4-wire': 'FRES' } as const;
/** Meters commonly read up to 1.2 times the range they name. */
const OVER_RANGE = new Big('1.2');

/**
 * How long to wait for one reading, in milliseconds: integration time at 50 Hz, twice for auto-zero (common practice),
 * up to eight ranges tried when auto-ranging, all three times over, and 2 s for settling and the line.
 */
export function readingDeadline(setting: { range: 'auto' | 'fixed'; integrationCycles: string }): number {
  const oneReading = (Number(setting.integrationCycles) / 50) * 2 * 1000;
  const ranges = setting.range === 'auto' ? 8 : 1;
  return Math.ceil(oneReading * ranges * 3) + 2000;
}

/**
 * Takes a SCPI resistance meter into use: remote control on serial lines, cleared status, identity.
 * @throws {Problem} meter-silent, answer-unreadable, meter-lost
 */
export async function prepareMeter(session: Session, serial: boolean): Promise<Meter> {
  // Before the first question, since some meters refuse everything else on RS-232 until then. A meter that
  // doesn't know SYST:REM notes an error, which *CLS removes.
  if (serial) await session.command('SYST:REM');
  await session.command('*CLS');
  const identity = readIdentity(await session.query('*IDN?', QUERY_MILLISECONDS));
  return new ScpiMeter(session, serial, identity);
}

class ScpiMeter implements Meter {
  readonly identity: Identity;
  readonly hands: Hands | null;
  readonly #session: Session;
  readonly #serial: boolean;
  #found: MeterSettingFound | null = null;
  /** Why nothing may be read while there is no setting known to be taken. */
  #wanted: MeterSetting | null = null;
  #deadline = 0;

  constructor(session: Session, serial: boolean, identity: Identity) {
    this.#session = session;
    this.#serial = serial;
    this.identity = identity;
    this.hands = handsOf(identity, (query) => this.#ask(query));
  }

  async configure(setting: MeterSetting): Promise<MeterSettingFound> {
    this.#wanted = setting;
    this.#found = null;
    const session = this.#session;
    const word = WORDS[setting.function];
    await session.command('*CLS');
    await session.command(`CONF:${word}`);
    await session.command(
      setting.range === 'auto' ? `${word}:RANG:AUTO ON` : `${word}:RANG ${scpiDecimal(setting.range.coversOhms)}`,
    );
    await session.command(`${word}:NPLC ${setting.integrationCycles}`);
    await this.#expectNoErrors(`the setting CONF:${word}`);

    await this.#expectFunction(setting.function);
    const rangeOhms = await this.#expectRange(word, setting.range);
    const cycles = await this.#value(`${word}:NPLC?`);
    // A meter has few integration times and takes the next one; only a shorter one would be worse than asked for.
    if (cycles.lt(setting.integrationCycles)) {
      throw problem('setting-not-taken', 'integration cycles', String(setting.integrationCycles), cycles.toFixed());
    }
    await this.#expectNoErrors(`the questions about CONF:${word}`);
    const found: MeterSettingFound = {
      function: setting.function,
      range: setting.range === 'auto' ? 'auto' : 'fixed',
      rangeOhms,
      integrationCycles: cycles.toFixed(),
    };
    this.#deadline = readingDeadline(found);
    this.#found = found;
    return found;
  }

  async read(): Promise<Measured> {
    this.#session.expectConnected();
    if (!this.#wanted) throw new Error('the meter is read before it is set');
    // After a range that may not have been set back, the whole setting is made and checked again before anything counts.
    const found = this.#found ?? (await this.configure(this.#wanted));
    const measured = await this.#measure(this.#deadline);
    if (measured.kind === 'overload' && found.range === 'fixed') return this.#readAboveRange(found);
    return measured;
  }

  close(): Promise<void> {
    return this.#session.close(this.#serial ? 'SYST:LOC' : undefined);
  }

  async #measure(milliseconds: number): Promise<Measured> {
    let raw: string;
    try {
      raw = await this.#session.query('READ?', milliseconds);
    } catch (failure) {
      throw await this.#whySilent('READ?', failure);
    }
    const number = meterNumber(raw);
    if (number?.kind === 'value') return { kind: 'value', ohms: number.text, raw };
    if (number?.kind === 'overload') return { kind: 'overload', raw };
    if (number?.kind === 'not-a-number') throw problem('answer-not-a-number', 'READ?');
    throw this.#unreadable('READ?', raw);
  }

  /** One reading on any range tells a piece just above the fixed range from an open one; then the range is set back. */
  async #readAboveRange(found: MeterSettingFound): Promise<Measured> {
    const word = WORDS[found.function];
    // Until the range is known to be set back no reading may count on it.
    this.#found = null;
    await this.#session.command(`${word}:RANG:AUTO ON`);
    const measured = await this.#measure(readingDeadline({ ...found, range: 'auto' }));
    const rangeOhms = String(found.rangeOhms);
    await this.#session.command(`${word}:RANG ${scpiDecimal(rangeOhms)}`);
    await this.#expectRange(word, { coversOhms: rangeOhms });
    await this.#expectNoErrors('the range set back');
    this.#found = found;
    return measured;
  }

  /**
   * A refused query sends nothing, so the error queue tells "refused" from "silent". Asking it first proves step; a
   * meter that doesn't even answer that is lost, so that whoever supervises it begins to look for it again.
   */
  async #whySilent(query: string, failure: unknown): Promise<unknown> {
    if (!(failure instanceof Problem) || failure.code !== 'meter-silent') return failure;
    try {
      const errors = await this.#session.errors();
      return errors.length > 0 ? problem('meter-error', query, errors.join('; ')) : failure;
    } catch (worse) {
      if (!(worse instanceof Problem) || worse.code !== 'meter-silent') return worse;
      const why = `it answers neither ${query} nor anything else`;
      this.#session.declareLost(why);
      return problem('meter-lost', why);
    }
  }

  async #ask(query: string): Promise<string> {
    try {
      return await this.#session.query(query, QUERY_MILLISECONDS);
    } catch (failure) {
      throw await this.#whySilent(query, failure);
    }
  }

  async #value(query: string): Promise<Big> {
    const answer = await this.#ask(query);
    const number = meterNumber(answer);
    if (number?.kind !== 'value') throw this.#unreadable(query, answer);
    return new Big(number.text);
  }

  async #expectFunction(wanted: MeterSetting['function']): Promise<void> {
    const answer = await this.#ask('FUNC?');
    const word = answer
      .trim()
      .replace(/^(["'])(.*)\1$/, '$2')
      .toUpperCase();
    const found = word === 'RES' || word === 'RESISTANCE' ? '2-wire' : /^FRES(ISTANCE)?$/.test(word) ? '4-wire' : null;
    if (found !== wanted) throw problem('setting-not-taken', 'function', wanted, answer);
  }

  async #expectRange(word: string, wanted: MeterSetting['range']): Promise<string> {
    const auto = (await this.#value(`${word}:RANG:AUTO?`)).eq(1);
    if (auto !== (wanted === 'auto')) {
      throw problem('setting-not-taken', 'range', wanted === 'auto' ? 'auto' : 'fixed', auto ? 'auto' : 'fixed');
    }
    const range = await this.#value(`${word}:RANG?`);
    if (wanted !== 'auto' && range.times(OVER_RANGE).lt(wanted.coversOhms)) {
      throw problem('setting-not-taken', 'a range that covers', `${wanted.coversOhms} Ω`, `${range.toFixed()} Ω`);
    }
    return range.toFixed();
  }

  async #expectNoErrors(what: string): Promise<void> {
    const errors = await this.#session.errors();
    if (errors.length > 0) throw problem('meter-error', what, errors.join('; '));
  }

  #unreadable(query: string, answer: string): Problem {
    this.#session.doubt();
    return problem('answer-unreadable', query, answer);
  }
}

// Not every meter reads a long plain decimal; NR3 is understood by all (IEEE 488.2 7.7.2).
function scpiDecimal(ohms: string): string {
  return new Big(ohms).toExponential().toUpperCase();
}
