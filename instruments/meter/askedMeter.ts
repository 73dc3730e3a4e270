import { setTimeout as wait } from 'node:timers/promises';
import Big from 'big.js';
import { Problem, problem } from '../../core/problem/problem.ts';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import type { Session, SessionWays } from '../scpi/session.ts';
import type { Connection } from '../transport/connection.ts';
import { readValue, type Said, splitAnswer } from './answerForm.ts';
import { type AskedDialect, type FunctionWords, functionsOf } from './dialect.ts';
import { readErrorQueue } from './errorQueue.ts';
import { type EventStatus, readEventStatus } from './eventStatus.ts';
import { type Hands, handsOverLine } from './hands.ts';
import { type Identity, NOT_TOLD, readIdentity } from './identity.ts';
import type { Meter, MeterFunction, MeterSetting, MeterSettingFound, OtherReading, Reading } from './meter.ts';
import { readingMilliseconds } from './readingTime.ts';
import { isNameOf, isNumber, nr3, onOrOff } from './settingAnswers.ts';

const QUESTION_MILLISECONDS = 3000;
/** Room for an answer with its end of line, where its length is not known. */
const ANSWER_CHARACTERS = 100;
/** Meters commonly read up to 1.2 times the range they name. */
const OVER_RANGE = new Big('1.2');
/** Integration time that is waited for where a meter was not told one: commonly 10 cycles after CONFigure. */
const USUAL_CYCLES = 10;
/** How often a meter that waits for its trigger is asked whether that came: a hand notices no such delay. */
const TRIGGER_POLL_MILLISECONDS = 20;

/** How a session keeps question and answer together with a meter of this dialect. */
export function waysOf(dialect: AskedDialect): SessionWays {
  const { proof, longestCommand, delayMilliseconds } = dialect;
  return { compound: dialect.commandsPerMessage === 'several', proof, longestCommand, delayMilliseconds };
}

/** The command that gives the meter back to its front panel, where this line needs one. */
export function farewellOf(dialect: AskedDialect, connection: Pick<Connection, 'serial'>): string | undefined {
  return wantsRemote(dialect, connection) ? (dialect.local ?? undefined) : undefined;
}

function wantsRemote(dialect: AskedDialect, { serial }: Pick<Connection, 'serial'>): boolean {
  return serial || dialect.remoteOn === 'always';
}

/**
 * Takes a meter that answers when it is asked into use: remote control, cleared status, identity.
 * @throws {Problem} meter-silent, meter-lost, and the others of `Session.ask`
 */
export async function prepareMeter(
  session: Session,
  connection: Pick<Connection, 'serial' | 'characterMilliseconds'>,
  dialect: AskedDialect,
): Promise<Meter> {
  const meter = new AskedMeter(session, connection, dialect);
  await meter.begin();
  return meter;
}

class AskedMeter implements Meter {
  identity: Identity = readIdentity(NOT_TOLD);
  hands: Hands | null = null;
  readonly isSetByHand = false;
  readonly dialect: string;
  readonly measures: readonly MeterFunction[];
  readonly hasTrigger: boolean;
  readonly #session: Session;
  readonly #connection: Pick<Connection, 'serial' | 'characterMilliseconds'>;
  readonly #words: AskedDialect;
  /** The setting known to be taken; null while there is none, and nothing may be read. */
  #found: MeterSettingFound | null = null;
  #wanted: MeterSetting | null = null;
  /**
   * Reading the event status clears it. Where the answer that carried it did not count, it may have told of power on, and
   * no later one will.
   */
  #mayHaveRestarted = false;
  /** A reading might wait for the meter's own trigger instead of beginning at once. */
  #mayWaitForTrigger = false;

  constructor(
    session: Session,
    connection: Pick<Connection, 'serial' | 'characterMilliseconds'>,
    dialect: AskedDialect,
  ) {
    this.#session = session;
    this.#connection = connection;
    this.#words = dialect;
    this.dialect = dialect.name;
    this.measures = functionsOf(dialect);
    this.hasTrigger = dialect.trigger !== null;
  }

  async begin(): Promise<void> {
    const { remote, clear, identity, events } = this.#words;
    // Before the first question, since some meters refuse everything else on RS-232 until then. A meter that doesn't
    // know the command notes an error, which clearing removes.
    if (remote !== null && wantsRemote(this.#words, this.#connection)) await this.#session.command(remote);
    await this.#spareRegisterInMemory();
    if (clear !== null) await this.#session.command(clear);
    // Reading the event status clears it: power on, before this began, is no news.
    else if (events !== null) await this.#session.ask([events], this.#questionMilliseconds).catch(ifRefused([]));
    if (identity === null) return;
    const said = await this.askIdentity();
    const again = await this.askIdentity();
    // Another meter ends a run, so a garbled word must not pass for one.
    if (said !== again) {
      this.#session.doubt();
      throw problem('answer-garbled', `${said}" and then "${again}`);
    }
    this.identity = readIdentity(said);
    if (this.identity.simulated) {
      this.hands = handsOverLine({
        tell: (command) => this.#session.command(command),
        ask: (question) => this.#ask(question),
      });
    }
  }

  async askIdentity(): Promise<string> {
    const { identity } = this.#words;
    if (identity === null) return this.identity.text;
    return (await this.#session.askAlone(identity, this.#questionMilliseconds)).trim();
  }

  async configure(setting: MeterSetting): Promise<MeterSettingFound> {
    const words = this.#wordsFor(setting.function);
    this.#wanted = setting;
    this.#found = null;
    await this.#tellFunction(words);
    await this.#tellRange(words, setting.range);
    const { cycles } = words;
    if (cycles) await this.#tell(cycles.set.replace('{cycles}', String(setting.integrationCycles)));
    await this.#expectNoErrors(`the setting ${words.configure.join(' ')}`);

    const name = await this.#ask(this.#words.function.ask);
    if (!isNameOf(words, name)) throw problem('setting-not-taken', 'function', setting.function, name);
    const rangeOhms = await this.#expectRange(words, setting.range);
    const found = cycles ? await this.#value(cycles.ask) : new Big(words.fixedCycles ?? 0);
    // A meter has few integration times and takes the next one; only a shorter one would be worse than asked for.
    if (found.lt(setting.integrationCycles)) {
      throw problem('setting-not-taken', 'integration cycles', String(setting.integrationCycles), found.toFixed());
    }
    await this.#expectNoErrors(`the questions about ${words.configure.join(' ')}`);
    this.#found = {
      function: setting.function,
      range: setting.range === 'auto' ? 'auto' : 'fixed',
      rangeOhms,
      integrationCycles: found.toFixed(),
    };
    this.#mayHaveRestarted = false;
    return this.#found;
  }

  async read(): Promise<Reading> {
    const reading = await this.glance();
    return reading.kind === 'overload' ? this.#onAnyRange(reading) : reading;
  }

  async glance(): Promise<Reading> {
    const found = await this.#setAndSure();
    return this.#measure(found.function, found);
  }

  async glanceOnAnyRange(): Promise<Reading> {
    const found = await this.#setAndSure();
    return found.range === 'fixed' ? this.#measureOnAnyRange(found) : this.#measure(found.function, found);
  }

  async awaitTrigger(signal: AbortSignal): Promise<Reading | null> {
    const { trigger } = this.#words;
    if (trigger === null) throw problem('trigger-missing', this.dialect);
    const found = await this.#setAndSure();
    // Until readings begin at once again none may be asked for.
    this.#found = null;
    this.#mayWaitForTrigger = true;
    await this.#tell(trigger.external);
    await this.#expectNoErrors(trigger.external);
    await this.#tell(trigger.wait);
    await this.#tell(trigger.note);
    const came = await this.#triggerCame(signal);
    const reading = came ? await this.#measure(found.function, found, trigger.ask) : null;
    await this.#stopWaiting();
    await this.#expectNoErrors(trigger.immediate);
    this.#found = found;
    return reading;
  }

  async readOther(wanted: MeterFunction): Promise<OtherReading> {
    this.#session.expectConnected();
    const words = this.#wordsFor(wanted);
    this.#found = null;
    await this.#tellFunction(words);
    if (words.range) await this.#tell(words.range.auto);
    await this.#expectNoErrors(`the setting ${words.configure.join(' ')}`);
    const integrationCycles = String(words.fixedCycles ?? USUAL_CYCLES);
    const reading = await this.#measure(wanted, { range: 'auto', rangeOhms: null, integrationCycles });
    return { raw: reading.raw, said: reading.said, value: reading.kind === 'value' ? reading.ohms : null };
  }

  close(): Promise<void> {
    return this.#session.close(farewellOf(this.#words, this.#connection));
  }

  /** The setting, known to be taken: after one that may be gone, the whole of it is made and checked again. */
  async #setAndSure(): Promise<MeterSettingFound> {
    this.#session.expectConnected();
    if (!this.#wanted) throw new Error('the meter is read before it is set');
    const found = this.#found ?? (await this.configure(this.#wanted));
    if (this.#mayHaveRestarted) await this.#expectStillSet(found);
    return found;
  }

  /** Whether the trigger came before the signal. */
  async #triggerCame(signal: AbortSignal): Promise<boolean> {
    const { events } = this.#words;
    while (!signal.aborted) {
      const { isComplete, hasErrors } = await this.#events(String(events));
      if (hasErrors) throw problem('meter-error', 'its own trigger', (await this.#complaints(true)).join('; '));
      if (isComplete) return true;
      await wait(TRIGGER_POLL_MILLISECONDS, undefined, { signal }).catch(() => undefined);
    }
    return false;
  }

  async #stopWaiting(): Promise<void> {
    const { trigger } = this.#words;
    if (trigger === null || !this.#mayWaitForTrigger) return;
    await this.#tell(trigger.abandon);
    await this.#tell(trigger.immediate);
    this.#mayWaitForTrigger = false;
  }

  /**
   * Takes one reading, or asks for the one there is; value, function and event status come in one answer, so each is of
   * this very reading.
   */
  async #measure(
    wanted: MeterFunction,
    setting: Omit<MeterSettingFound, 'function'>,
    ask = this.#words.reading.ask,
  ): Promise<Reading> {
    const { function: asked, events } = this.#words;
    const questions = [ask, asked.ask, ...(events === null ? [] : [events])];
    const characters = questions.join(' ').length + ANSWER_CHARACTERS;
    const { characterMilliseconds } = this.#connection;
    const milliseconds = readingMilliseconds({ ...setting, characters, characterMilliseconds });
    const [said = '', name = '', status] = await this.#askAll(questions, milliseconds);
    if (status !== undefined && this.#eventsOf(status).hasErrors) {
      throw problem('meter-error', ask, (await this.#complaints(true)).join('; '));
    }
    const words = this.#wordsFor(wanted);
    if (!isNameOf(words, name)) {
      this.#found = null;
      throw problem('function-changed', wanted, this.measures.find((each) => this.#has(each, name)) ?? name);
    }
    const value = this.#understand(words, said);
    if (value === null) throw this.#unreadable(ask, said);
    if (value.kind === 'not-a-number') throw problem('answer-not-a-number', ask);
    return value.kind === 'value'
      ? { kind: 'value', ohms: value.text, raw: value.raw, said }
      : { kind: 'overload', raw: value.raw, said };
  }

  #understand(words: FunctionWords, line: string): Said | null {
    const { reading } = this.#words;
    const parts = splitAnswer(reading, line);
    if (!parts) return null;
    if (parts.unit === null) return readValue(reading, parts.value, 1);
    const multiplier = Object.hasOwn(words.units, parts.unit) ? words.units[parts.unit] : undefined;
    return multiplier === undefined ? null : readValue(reading, parts.value, multiplier);
  }

  /** A reading on any range tells a piece just above the fixed range from an open one. */
  async #onAnyRange(overload: Reading): Promise<Reading> {
    return this.#found?.range === 'fixed' ? this.#measureOnAnyRange(this.#found) : overload;
  }

  /** One reading on any range; then the range is set back. */
  async #measureOnAnyRange(found: MeterSettingFound): Promise<Reading> {
    const words = this.#wordsFor(found.function);
    // Until the range is known to be set back no reading may count on it.
    this.#found = null;
    await this.#tellRange(words, 'auto');
    const reading = await this.#measure(found.function, { ...found, range: 'auto' });
    const range = { coversOhms: String(found.rangeOhms) };
    await this.#tellRange(words, range);
    await this.#expectRange(words, range);
    await this.#expectNoErrors('the range set back');
    this.#found = found;
    return reading;
  }

  /**
   * A register that is kept in memory when power is off wears out when it is written for each question (IEEE 488.2
   * 10.25: *PSC 0). Not every meter has the question; one that refuses it has no such memory.
   */
  async #spareRegisterInMemory(): Promise<void> {
    if (this.#words.commandsPerMessage !== 'several' || this.#words.proof.ask !== '*ESE?') return;
    const [keeps] = await this.#session.ask(['*PSC?'], this.#questionMilliseconds).catch(ifRefused([]));
    if (keeps?.trim() === '0') this.#session.spareTheRegister();
  }

  #wordsFor(wanted: MeterFunction): FunctionWords {
    const words = this.#words.functions[wanted];
    if (!words) throw problem('function-missing', wanted, this.dialect);
    return words;
  }

  #has(each: MeterFunction, answer: string): boolean {
    return isNameOf(this.#wordsFor(each), answer);
  }

  #tell(command: string): Promise<void> {
    return this.#session.command(command);
  }

  /**
   * What the meter has to tell of the time before is heard first, since clearing would lose it. After power was off a
   * meter is no longer under remote control, so that is taken again with each setting.
   */
  async #tellFunction(words: FunctionWords): Promise<void> {
    const { remote, clear } = this.#words;
    const before = await this.#complaints(false).catch(ifRefused([]));
    if (before.length > 0) throw problem('meter-error', 'what came before', before.join('; '));
    if (remote !== null && wantsRemote(this.#words, this.#connection)) await this.#tell(remote);
    await this.#stopWaiting();
    if (clear !== null) await this.#tell(clear);
    for (const command of words.configure) await this.#tell(command);
  }

  async #tellRange({ range }: FunctionWords, wanted: MeterSetting['range']): Promise<void> {
    if (range) await this.#tell(wanted === 'auto' ? range.auto : range.set.replace('{ohms}', nr3(wanted.coversOhms)));
    else if (wanted !== 'auto')
      throw problem('setting-not-taken', 'a fixed range', wanted.coversOhms, 'automatic only');
  }

  async #expectRange({ range }: FunctionWords, wanted: MeterSetting['range']): Promise<string | null> {
    if (!range) return null;
    const auto = onOrOff(await this.#ask(range.isAuto));
    if (auto !== (wanted === 'auto')) {
      const found = auto === null ? 'neither' : auto ? 'auto' : 'fixed';
      throw problem('setting-not-taken', 'range', wanted === 'auto' ? 'auto' : 'fixed', found);
    }
    const ohms = await this.#value(range.ask);
    if (wanted !== 'auto' && ohms.times(OVER_RANGE).lt(wanted.coversOhms)) {
      throw problem('setting-not-taken', 'a range that covers', `${wanted.coversOhms} Ω`, `${ohms.toFixed()} Ω`);
    }
    return ohms.toFixed();
  }

  async #expectStillSet(setting: MeterSettingFound): Promise<void> {
    const isStillSet = await this.#isStillSet(setting).catch(async (failure: unknown) => {
      throw await this.#whyNot(this.#words.function.ask, failure);
    });
    if (!isStillSet) {
      this.#found = null;
      throw problem('meter-restarted');
    }
    this.#mayHaveRestarted = false;
  }

  /** Whether the meter still says of itself what it said when it was set. */
  async #isStillSet(setting: MeterSettingFound): Promise<boolean> {
    const { range, cycles, names } = this.#wordsFor(setting.function);
    const questions = [
      { ask: this.#words.function.ask, fits: (answer: string) => isNameOf({ names }, answer) },
      ...(range
        ? [{ ask: range.isAuto, fits: (answer: string) => onOrOff(answer) === (setting.range === 'auto') }]
        : []),
      ...(range && setting.range === 'fixed' ? [{ ask: range.ask, fits: isNumber(setting.rangeOhms) }] : []),
      ...(cycles ? [{ ask: cycles.ask, fits: isNumber(setting.integrationCycles) }] : []),
    ];
    for (const { ask, fits } of questions) {
      const answer = await this.#session.ask([ask], this.#questionMilliseconds).catch(ifRefused([]));
      if (answer[0] === undefined || !fits(answer[0])) return false;
    }
    return true;
  }

  async #value(question: string): Promise<Big> {
    const answer = await this.#ask(question);
    const number = meterNumber(answer);
    if (number?.kind !== 'value') throw this.#unreadable(question, answer);
    return new Big(number.text);
  }

  async #ask(question: string): Promise<string> {
    const [answer = ''] = await this.#askAll([question], this.#questionMilliseconds);
    return answer;
  }

  async #askAll(questions: readonly string[], milliseconds: number): Promise<string[]> {
    try {
      return await this.#session.ask(questions, milliseconds);
    } catch (failure) {
      this.#mayHaveRestarted = true;
      throw await this.#whyNot(questions.join(' '), failure);
    }
  }

  /**
   * A refused question sends nothing, so status and error queue tell "refused" from "silent". Asking them proves step
   * first; a meter that doesn't even answer that is lost, so that whoever supervises it begins to look for it again.
   */
  async #whyNot(question: string, failure: unknown): Promise<unknown> {
    const code = failure instanceof Problem ? failure.code : null;
    if (code !== 'meter-silent' && code !== 'question-refused') return failure;
    try {
      const complaints = await this.#complaints(false).catch(ifRefused([]));
      // The refusal may have come together with the event status that told of power on, and that is gone then.
      if (code === 'question-refused' && this.#found && !(await this.#isStillSet(this.#found))) {
        this.#found = null;
        return problem('meter-restarted');
      }
      return complaints.length > 0 ? problem('meter-error', question, complaints.join('; ')) : failure;
    } catch (worse) {
      if (!(worse instanceof Problem) || worse.code !== 'meter-silent') return worse;
      const why = `it answers neither ${question} nor anything else`;
      this.#session.declareLost(why);
      return problem('meter-lost', why);
    }
  }

  async #expectNoErrors(what: string): Promise<void> {
    const complaints = await this.#complaints(false);
    if (complaints.length > 0) throw problem('meter-error', what, complaints.join('; '));
  }

  /**
   * What the meter has against what it was told; empty if nothing.
   * @param noted its event status said so already
   * @throws {Problem} meter-restarted, and those of `Session.ask`
   */
  async #complaints(noted: boolean): Promise<string[]> {
    const { events, errors } = this.#words;
    const hasErrors = (events !== null && (await this.#events(events)).hasErrors) || noted;
    const queue = errors === null ? [] : await readErrorQueue(this.#session, errors, this.#questionMilliseconds);
    if (queue.length > 0) return queue;
    return hasErrors ? ['its event status says so, and its error queue nothing'] : [];
  }

  async #events(question: string): Promise<EventStatus> {
    try {
      const [answer = ''] = await this.#session.ask([question], this.#questionMilliseconds);
      return this.#eventsOf(answer);
    } catch (failure) {
      this.#mayHaveRestarted = true;
      throw failure;
    }
  }

  #eventsOf(answer: string): EventStatus {
    const status = readEventStatus(answer);
    if (!status) throw this.#unreadable(String(this.#words.events), answer);
    if (!status.restarted) return status;
    this.#found = null;
    throw problem('meter-restarted');
  }

  #unreadable(question: string, answer: string): Problem {
    this.#session.doubt();
    return problem('answer-unreadable', question, answer);
  }

  get #questionMilliseconds(): number {
    return QUESTION_MILLISECONDS + 2 * ANSWER_CHARACTERS * this.#connection.characterMilliseconds;
  }
}

/** What stands for the answer where the meter refuses a question. */
function ifRefused(otherwise: string[]): (failure: unknown) => string[] {
  return (failure) => {
    if (failure instanceof Problem && failure.code === 'question-refused') return otherwise;
    throw failure;
  };
}
