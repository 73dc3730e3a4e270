import { type Problem, problem } from '../../core/problem/problem.ts';
import type { Connection } from '../transport/connection.ts';
import { Lines } from '../transport/lines.ts';
import { FreshNumbers } from './freshNumbers.ts';
import { fieldsOf, isNumber, messageOf } from './message.ts';
import { type Pairing, pairedAnswers, pairedMessage } from './pairing.ts';

/**
 * - opening: connected, nothing was asked yet
 * - unsynchronised: question and answer may be out of step
 * - ready: in step
 * - lost: the connection ended without our doing
 * - closed: ended by us
 *
 * From `opening` and `unsynchronised` step is proved before the next question is asked.
 */
export type SessionState = 'opening' | 'unsynchronised' | 'ready' | 'lost' | 'closed';

/** What an instrument takes and how it shows that it is in step; its dialect says so. */
export interface SessionWays {
  /** Whether a message may hold several commands and questions. */
  compound: boolean;
  /** A register of numbers from 0 to `largest`: how it is set ({number} stands for the number) and asked for. */
  proof: { set: string; ask: string; largest: number };
  /** Most bytes of one message without its end; null where nothing is known of a limit. */
  longestCommand: number | null;
  /** Least time from one message to the next. */
  delayMilliseconds: number;
}

export interface SessionOptions {
  /** A number from 0 up to, not including, 1. */
  random: () => number;
  ways: SessionWays;
  /** The connection is lost; called once, never for a session closed here. */
  onLost: (why: Problem) => void;
}

/** Whoever takes the next line that comes. */
interface Taker {
  line: (text: string) => void;
  fail: (why: Problem) => void;
}

const QUIET_MILLISECONDS = 50;
const QUIET_CHARACTERS = 20;
const LONGEST_WAIT_FOR_QUIET_MILLISECONDS = 2000;
const PROOF_MILLISECONDS = 1000;
const PROOF_CHARACTERS = 200;
const PROOF_ATTEMPTS = 3;
const MOST_ECHOES = 16;

/**
 * Questions and answers with one SCPI instrument, one exchange on the line at a time; others wait their turn in the order
 * they came. An instrument on a serial line or a socket sends an answer whenever it has one, so after a question that
 * timed out the next line may be the old answer. Flushing cannot help: it drops what came, not what still comes. Two
 * things keep question and answer together:
 *
 * - Proof of step. After any doubt the session is `unsynchronised`: it waits for a quiet line, writes two fresh random
 *   numbers to a register every instrument has (the standard event status enable register, IEEE 488.2 10.10 and 10.11)
 *   and drops every line until both come back. Instruments answer in order, so all older answers are gone then.
 * - Each answer is paired with its own question. Where a message may hold several commands, a fresh number is written
 *   before the question and asked for around it, all in one message, and the answer must carry it as its first and last
 *   field; a question that was refused leaves its field out. A register that must not be written so often keeps its number,
 *   which is asked for once and twice by turns. Elsewhere the number is asked for right behind the answer and must be the
 *   very next line.
 */
export class Session {
  readonly #lines: Lines;
  readonly #options: SessionOptions;
  readonly #numbers: FreshNumbers;
  readonly #longest: number;
  readonly #characterMilliseconds: number;
  #state: SessionState = 'opening';
  #endedBy = '';
  /** Ends with the exchange that was entered last. */
  #turn: Promise<unknown> = Promise.resolve();
  #taker: Taker | null = null;
  #registerIsSpared = false;
  /** The number that was written last; where one was not taken, no answer fits and step is proved with others. */
  #register = 0;
  #asksTwice = false;
  #echoes: boolean;
  readonly #mayNotEcho: boolean;
  /** What was sent and may still come back as an echo. */
  #sent: string[] = [];
  #lastHeard = performance.now();
  #lastLine = '';
  /** What came last while step was proved and was not the proof. */
  #cameInstead = '';
  // An answer that is overdue may still be in the making when step is proved.
  #overdueMilliseconds = 0;

  constructor(connection: Connection, options: SessionOptions) {
    this.#options = options;
    const { proof, longestCommand, delayMilliseconds } = options.ways;
    this.#numbers = new FreshNumbers(options.random, proof.largest);
    this.#longest = Math.min(
      longestCommand ?? Number.POSITIVE_INFINITY,
      connection.line.longestCommand ?? Number.POSITIVE_INFINITY,
    );
    this.#characterMilliseconds = connection.characterMilliseconds;
    this.#echoes = connection.line.echo === 'on';
    this.#mayNotEcho = connection.line.echo === 'off';
    this.#lines = new Lines(
      connection,
      {
        line: (text) => this.#take(text),
        overlong: (bytes) => this.#doubtBy(problem('answer-too-long', bytes)),
        lost: (why) => this.#lost(why),
      },
      delayMilliseconds,
    );
  }

  get state(): SessionState {
    return this.#state;
  }

  /**
   * Asks one or several questions at once and resolves with their answers in the same order, each of which belongs to
   * its own question.
   * @param milliseconds deadline for all answers, counted from when the questions are sent
   * @throws {Problem} question-refused if an answer is left out, answer-out-of-step, answer-garbled, answer-too-long,
   *   line-echoes, meter-silent, meter-not-in-step, command-too-long, meter-lost; after all but question-refused step
   *   is proved anew
   */
  ask(questions: readonly string[], milliseconds: number): Promise<string[]> {
    return this.#inTurn(async () => {
      await this.#proveStepWhereNeeded();
      if (!this.#options.ways.compound) return this.#askFenced(questions, milliseconds);
      const pairing = this.#pairing();
      const message = pairedMessage(questions, pairing);
      if (message.length > this.#longest) return this.#askFenced(questions, milliseconds);
      const line = await this.#line(message, milliseconds);
      const answers = pairedAnswers(line, questions.length, pairing);
      if (answers === null) {
        this.doubt();
        throw problem('answer-out-of-step', questions.join(' '), line);
      }
      if (answers.length < questions.length) throw problem('question-refused', questions.join(' '));
      return answers;
    });
  }

  /**
   * Asks a question whose answer is text up to the end of the line, like *IDN? (IEEE 488.2 8.7.11: nothing may follow
   * such an answer), and proves right behind it that it was this question's.
   * @throws {Problem} as `ask`
   */
  askAlone(question: string, milliseconds: number): Promise<string> {
    return this.#inTurn(async () => {
      await this.#proveStepWhereNeeded();
      const [answer = ''] = await this.#askFenced([question], milliseconds);
      return answer;
    });
  }

  /**
   * Sends a command that has no answer and resolves when it is written.
   * @throws {Problem} meter-lost, meter-silent if the meter holds the line, command-too-long
   */
  command(text: string): Promise<void> {
    return this.#inTurn(() => {
      this.#mustFit(text);
      this.#mayEcho(text);
      return this.#lines.write(text);
    });
  }

  /**
   * From now on the register is written for proofs of step only and read for each question: for an instrument that keeps
   * it in memory that wears out (IEEE 488.2 10.25: *PSC 0).
   */
  spareTheRegister(): void {
    this.#registerIsSpared = true;
  }

  /** Tells the session that an answer made no sense, so that step is proved before the next one counts. */
  doubt(): void {
    if (this.#state === 'ready') this.#state = 'unsynchronised';
  }

  /** @throws {Problem} meter-lost if the connection is lost or closed */
  expectConnected(): void {
    if (this.#state === 'lost' || this.#state === 'closed') throw problem('meter-lost', this.#endedBy);
  }

  /** Takes the connection for lost although it is open, because the instrument answers nothing any more. */
  declareLost(why: string): void {
    if (this.#state !== 'lost' && this.#state !== 'closed') this.#lost(why);
  }

  /** Sends a last command, if there is one, and closes the connection. Never hangs; open exchanges end as meter-lost. */
  async close(farewell?: string): Promise<void> {
    if (this.#state === 'closed') return;
    const connected = this.#state !== 'lost';
    this.#end('closed', 'it was closed here');
    if (connected && farewell !== undefined) await this.#lines.write(farewell).catch(() => undefined);
    await this.#lines.close();
  }

  #inTurn<T>(exchange: () => Promise<T>): Promise<T> {
    this.expectConnected();
    const done = this.#turn.then(() => {
      this.expectConnected();
      return exchange();
    });
    this.#turn = done.catch(() => undefined);
    return done;
  }

  async #askFenced(questions: readonly string[], milliseconds: number): Promise<string[]> {
    const number = this.#numbers.next();
    const before = this.#lastLine;
    this.#send(this.#set(number));
    const answers: string[] = [];
    for (const question of questions) answers.push(await this.#line(question, milliseconds));
    const fence = await this.#line(this.#proofQuestion, this.#proofMilliseconds);
    // A line that came between two of these and was not waited for has left its doubt. And where the line before came
    // twice while the first answer was lost, the count is right and the answer is not.
    if (!isNumber(fence, number) || this.#state !== 'ready' || answers[0] === before) {
      this.doubt();
      throw problem('answer-out-of-step', questions.join(' '), [...answers, fence].join(' / '));
    }
    return answers;
  }

  /**
   * A fresh number for each message; where the register is spared the number it keeps, which is asked for once and twice by
   * turns, so that the answer before, if it comes twice, does not fit.
   */
  #pairing(): Pairing {
    const ask = this.#proofQuestion;
    if (!this.#registerIsSpared) {
      const number = this.#numbers.next();
      return { number, set: this.#set(number), ask, times: 1 };
    }
    this.#asksTwice = !this.#asksTwice;
    return { number: this.#register, set: null, ask, times: this.#asksTwice ? 2 : 1 };
  }

  #send(text: string): void {
    this.#mayEcho(text);
    this.#lines.send(text);
  }

  #mustFit(text: string): void {
    if (text.length > this.#longest) throw problem('command-too-long', text, this.#longest);
  }

  #mayEcho(text: string): void {
    if (this.#mayNotEcho) return;
    this.#sent.push(text);
    if (this.#sent.length > MOST_ECHOES) this.#sent.shift();
  }

  /** Sends a line and takes the next one that comes, before the deadline. */
  #line(question: string, milliseconds: number): Promise<string> {
    // It may have been closed since the exchange began; then no answer comes, and none is waited for.
    this.expectConnected();
    this.#mustFit(question);
    const deadline = milliseconds + 2 * this.#lines.delayMilliseconds;
    const answer = new Promise<string>((resolve, reject) => {
      const timer = setTimeout(() => {
        this.#taker = null;
        this.doubt();
        this.#overdueMilliseconds = Math.max(this.#overdueMilliseconds, deadline);
        reject(problem('meter-silent', question, deadline));
      }, deadline);
      const leave = () => {
        clearTimeout(timer);
        this.#taker = null;
      };
      this.#taker = {
        line: (text) => {
          leave();
          resolve(text);
        },
        fail: (why) => {
          leave();
          reject(why);
        },
      };
    });
    // Only now, since within one process the answer comes before this call returns.
    this.#send(question);
    return answer;
  }

  #take(text: string): void {
    this.#lastHeard = performance.now();
    if (/[^\x20-\x7e\t]/.test(text)) {
      this.#doubtBy(problem('answer-garbled', readable(text)));
      return;
    }
    if (this.#sent.includes(text) && this.#isEcho(text)) return;
    this.#lastLine = text;
    if (this.#taker) this.#taker.line(text);
    else this.doubt();
  }

  /** Whether a line that is word for word what was sent is the echo of it; found out unless it is known. */
  #isEcho(text: string): boolean {
    this.#sent.splice(0, this.#sent.indexOf(text) + 1);
    if (this.#echoes) return true;
    this.#echoes = true;
    if (this.#state === 'ready') this.#doubtBy(problem('line-echoes', text));
    return true;
  }

  /** Something came that makes no sense: what is waited for does not count any more. */
  #doubtBy(why: Problem): void {
    this.#lastHeard = performance.now();
    // While step is proved all kinds of things may come.
    const proving = this.#state !== 'ready';
    if (proving) this.#cameInstead = why.what;
    this.doubt();
    if (!proving) this.#taker?.fail(why);
  }

  #lost(why: string): void {
    this.#end('lost', why);
    this.#lines.close();
    this.#options.onLost(problem('meter-lost', why));
  }

  #end(state: 'lost' | 'closed', why: string): void {
    this.#state = state;
    this.#endedBy = why;
    this.#taker?.fail(problem('meter-lost', why));
  }

  async #proveStepWhereNeeded(): Promise<void> {
    if (this.#state === 'ready') return;
    this.#cameInstead = '';
    for (let attempt = 0; attempt < PROOF_ATTEMPTS; attempt++) {
      await this.#quiet();
      // What is overdue is waited for once.
      const overdue = attempt === 0 ? this.#overdueMilliseconds : 0;
      if (await this.#comesBack(overdue + this.#proofMilliseconds)) {
        this.#state = 'ready';
        this.#overdueMilliseconds = 0;
        return;
      }
    }
    if (this.#cameInstead === '' && this.#options.ways.compound && (await this.#answersAlone())) {
      this.#cameInstead = 'an answer when it was asked alone, and none to several commands in one message';
    }
    if (this.#cameInstead !== '') throw problem('meter-not-in-step', this.#proofQuestion, this.#cameInstead);
    const waited = this.#overdueMilliseconds + PROOF_ATTEMPTS * this.#proofMilliseconds;
    throw problem('meter-silent', this.#proofQuestion, Math.round(waited));
  }

  /** Waits until nothing has come for a while, or gives up on that: then the proof itself drops what comes. */
  #quiet(): Promise<void> {
    const began = performance.now();
    const quietMilliseconds = Math.max(QUIET_MILLISECONDS, QUIET_CHARACTERS * this.#characterMilliseconds);
    return this.#listen<void>((done) => {
      const look = () => {
        const now = performance.now();
        const missing = quietMilliseconds - (now - this.#lastHeard);
        if (missing <= 0 || now - began > LONGEST_WAIT_FOR_QUIET_MILLISECONDS) done();
        else timer = setTimeout(look, missing);
      };
      let timer = setTimeout(look, 0);
      return { line: () => undefined, stop: () => clearTimeout(timer) };
    });
  }

  /** Two numbers, because a reading may by chance look like one. */
  #comesBack(milliseconds: number): Promise<boolean> {
    const [first, second] = [this.#numbers.next(), this.#numbers.next()];
    const units = [this.#set(first), this.#proofQuestion, this.#set(second), this.#proofQuestion];
    const message = messageOf(units);
    const whole = this.#options.ways.compound && message.length <= this.#longest;
    this.#sent = [];
    const back = this.#listen<boolean>((done) => {
      const timer = setTimeout(done, milliseconds + units.length * this.#lines.delayMilliseconds, false);
      let before = '';
      return {
        line: (text) => {
          const fields = whole ? fieldsOf(text) : [before, text];
          if (fields.length === 2 && isNumber(fields[0], first) && isNumber(fields[1], second)) done(true);
          before = text;
          this.#cameInstead = readable(text);
        },
        stop: () => clearTimeout(timer),
      };
    });
    for (const text of whole ? [message] : units) this.#send(text);
    return back;
  }

  /** Whether the instrument answers the question of the proof by itself, and only not in a message of several. */
  #answersAlone(): Promise<boolean> {
    const answered = this.#listen<boolean>((done) => {
      const timer = setTimeout(done, this.#proofMilliseconds, false);
      return { line: () => done(true), stop: () => clearTimeout(timer) };
    });
    this.#send(this.#proofQuestion);
    return answered;
  }

  /** Takes all lines that come until `done` is called or the connection ends. */
  #listen<T>(start: (done: (result: T) => void) => { line: (text: string) => void; stop: () => void }): Promise<T> {
    this.expectConnected();
    return new Promise((resolve, reject) => {
      const leave = () => {
        this.#taker = null;
        listener.stop();
      };
      const listener = start((result) => {
        leave();
        resolve(result);
      });
      this.#taker = {
        line: listener.line,
        fail: (why) => {
          leave();
          reject(why);
        },
      };
    });
  }

  /** The command that writes the number, which the register holds from then on. */
  #set(number: number): string {
    this.#register = number;
    return this.#options.ways.proof.set.replace('{number}', String(number));
  }

  get #proofQuestion(): string {
    return this.#options.ways.proof.ask;
  }

  /** How long a proof may take by itself, apart from answers that are overdue. */
  get #proofMilliseconds(): number {
    return PROOF_MILLISECONDS + PROOF_CHARACTERS * this.#characterMilliseconds;
  }
}

/** What came, with anything but printable characters as its byte in hexadecimal. */
function readable(text: string): string {
  const shown = text.replace(/[^\x20-\x7e]/g, (byte) => `<${byte.charCodeAt(0).toString(16).padStart(2, '0')}>`);
  return shown.length > 80 ? `${shown.slice(0, 80)}…` : shown;
}
