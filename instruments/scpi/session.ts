import { type Problem, problem } from '../../core/problem/problem.ts';
import type { Connection } from '../transport/connection.ts';
import { Lines } from '../transport/lines.ts';

/**
 * - unsynchronised: question and answer may be out of step; the next query proves step before it is asked
 * - ready: in step
 * - lost: the connection ended without our doing
 * - closed: ended by us
 */
export type SessionState = 'unsynchronised' | 'ready' | 'lost' | 'closed';

export interface SessionOptions {
  /** A number from 0 up to, not including, 1. */
  random: () => number;
  /** The connection is lost; called once, never for a session closed here. */
  onLost: (why: Problem) => void;
}

interface Exchange {
  text: string;
  /** Deadline of a query; null for a command, which has no answer. */
  milliseconds: number | null;
  resolve: (answer: string) => void;
  reject: (why: unknown) => void;
}

const QUIET_MILLISECONDS = 50;
const LONGEST_WAIT_FOR_QUIET_MILLISECONDS = 2000;
const PROOF_MILLISECONDS = 1000;
const PROOF_ATTEMPTS = 2;
const MOST_NUMBERS_KEPT = 8;
const ERROR_QUERY_MILLISECONDS = 3000;
const MOST_ERRORS = 30;

/**
 * Questions and answers with one SCPI instrument. One exchange is on the line at a time; others wait their turn in the
 * order they came. An instrument on a serial line or a socket sends an answer whenever it has one, so after a query
 * that timed out the next line may be the old answer. Flushing cannot help: it drops what came, not what still comes.
 * So after any doubt the session is `unsynchronised`: it waits for a quiet line, writes a fresh random number to the
 * standard event status enable register, which every instrument has (IEEE 488.2 10.10 and 10.11, *ESE and *ESE?),
 * and drops every line until that number comes back. Instruments answer in order, so all older answers are gone then.
 */
export class Session {
  readonly #lines: Lines;
  readonly #options: SessionOptions;
  #state: SessionState = 'unsynchronised';
  #current: Exchange | null = null;
  #asked = false;
  #deadline: NodeJS.Timeout | undefined;
  readonly #waiting: Exchange[] = [];
  #proof: { line: (text: string) => void; end: (why: Problem) => void } | null = null;
  #numbersUsed: number[] = [];
  #lastHeard = performance.now();
  // An answer that is overdue may still be in the making when step is proved.
  #overdueMilliseconds = 0;

  constructor(connection: Connection, options: SessionOptions) {
    this.#options = options;
    this.#lines = new Lines(connection, {
      line: (text) => this.#line(text),
      overlong: (bytes) => this.#overlong(bytes),
      lost: (why) => this.#lost(why),
    });
  }

  get state(): SessionState {
    return this.#state;
  }

  /**
   * Asks and resolves with the answer's line. From any state but `ready` step is proved first, so an answer always
   * belongs to its question.
   * @param milliseconds deadline for this answer, counted from when the question is sent
   * @throws {Problem} meter-silent, answer-too-long, meter-lost
   */
  query(text: string, milliseconds: number): Promise<string> {
    return new Promise((resolve, reject) => this.#enter({ text, milliseconds, resolve, reject }));
  }

  /**
   * Sends a command that has no answer and resolves when it is written.
   * @throws {Problem} meter-lost, meter-silent
   */
  async command(text: string): Promise<void> {
    await new Promise<string>((resolve, reject) => this.#enter({ text, milliseconds: null, resolve, reject }));
  }

  /**
   * Empties the instrument's error queue, oldest first, at most 30 (SCPI-1999 volume 2, 21.8: SYSTem:ERRor[:NEXT]?).
   * @returns the entries as the instrument words them, like `-113,"Undefined header"`; empty if there was none
   * @throws {Problem} answer-unreadable, meter-silent, meter-lost
   */
  async errors(): Promise<string[]> {
    const found: string[] = [];
    while (found.length < MOST_ERRORS) {
      const answer = await this.query('SYST:ERR?', ERROR_QUERY_MILLISECONDS);
      const number = /^ *([+-]?\d+) *(?:,|$)/.exec(answer)?.[1];
      if (number === undefined) {
        this.doubt();
        throw problem('answer-unreadable', 'SYST:ERR?', answer);
      }
      if (Number(number) === 0) break;
      found.push(answer.trim());
    }
    return found;
  }

  /** Tells the session that an answer made no sense, so that step is proved before the next one counts. */
  doubt(): void {
    if (this.#state === 'ready') this.#state = 'unsynchronised';
  }

  /** @throws {Problem} meter-lost if the connection is lost or closed */
  expectConnected(): void {
    if (this.#state === 'lost') throw problem('meter-lost', 'it was lost before');
    if (this.#state === 'closed') throw problem('meter-lost', 'it was closed here');
  }

  /** Takes the connection for lost although it is open, because the instrument answers nothing any more. */
  declareLost(why: string): void {
    if (this.#state === 'ready' || this.#state === 'unsynchronised') this.#lost(why);
  }

  /** Sends a last command, if there is one, and closes the connection. Never hangs; open exchanges end as meter-lost. */
  async close(farewell?: string): Promise<void> {
    if (this.#state === 'closed') return;
    const connected = this.#state !== 'lost';
    this.#state = 'closed';
    this.#abandon(problem('meter-lost', 'it was closed here'));
    if (connected && farewell !== undefined) await this.#lines.write(farewell).catch(() => undefined);
    await this.#lines.close();
  }

  #enter(exchange: Exchange): void {
    this.expectConnected();
    if (this.#current) this.#waiting.push(exchange);
    else this.#begin(exchange);
  }

  #begin(exchange: Exchange): void {
    this.#current = exchange;
    if (exchange.milliseconds === null) {
      this.#lines.write(exchange.text).then(
        () => this.#succeed(''),
        (why) => this.#fail(why),
      );
    } else if (this.#state === 'ready') {
      this.#ask(exchange, exchange.milliseconds);
    } else {
      const { milliseconds } = exchange;
      this.#proveStep().then(
        () => this.#current === exchange && this.#ask(exchange, milliseconds),
        (why) => this.#current === exchange && this.#fail(why),
      );
    }
  }

  #ask(exchange: Exchange, milliseconds: number): void {
    this.#asked = true;
    this.#deadline = setTimeout(() => {
      this.#state = 'unsynchronised';
      this.#overdueMilliseconds = milliseconds;
      this.#fail(problem('meter-silent', exchange.text, milliseconds));
    }, milliseconds);
    this.#lines.send(exchange.text);
  }

  #line(text: string): void {
    this.#lastHeard = performance.now();
    if (this.#asked) this.#succeed(text);
    else if (this.#proof) this.#proof.line(text);
    else this.doubt();
  }

  #overlong(bytes: number): void {
    this.#lastHeard = performance.now();
    this.doubt();
    if (this.#asked) this.#fail(problem('answer-too-long', bytes));
  }

  #lost(why: string): void {
    this.#state = 'lost';
    const lost = problem('meter-lost', why);
    this.#abandon(lost);
    this.#lines.close();
    this.#options.onLost(lost);
  }

  #succeed(answer: string): void {
    const exchange = this.#leave();
    exchange?.resolve(answer);
    this.#beginNext();
  }

  #fail(why: unknown): void {
    const exchange = this.#leave();
    exchange?.reject(why);
    this.#beginNext();
  }

  #leave(): Exchange | null {
    clearTimeout(this.#deadline);
    this.#asked = false;
    const exchange = this.#current;
    this.#current = null;
    return exchange;
  }

  #beginNext(): void {
    const next = this.#current ? undefined : this.#waiting.shift();
    if (next) this.#begin(next);
  }

  #abandon(why: Problem): void {
    const current = this.#leave();
    this.#proof?.end(why);
    for (const exchange of [current, ...this.#waiting.splice(0)]) exchange?.reject(why);
  }

  async #proveStep(): Promise<void> {
    const milliseconds = this.#overdueMilliseconds + PROOF_MILLISECONDS;
    for (let attempt = 0; attempt < PROOF_ATTEMPTS; attempt++) {
      await this.#quiet();
      if (await this.#comesBack(this.#freshNumber(), milliseconds)) {
        this.#state = 'ready';
        this.#overdueMilliseconds = 0;
        return;
      }
    }
    throw problem('meter-silent', '*ESE?', milliseconds * PROOF_ATTEMPTS);
  }

  /** Waits until nothing has come for a while, or gives up on that: then the proof itself drops what comes. */
  #quiet(): Promise<void> {
    const began = performance.now();
    return this.#listen<void>((done) => {
      const look = () => {
        const now = performance.now();
        const missing = QUIET_MILLISECONDS - (now - this.#lastHeard);
        if (missing <= 0 || now - began > LONGEST_WAIT_FOR_QUIET_MILLISECONDS) done();
        else timer = setTimeout(look, missing);
      };
      let timer = setTimeout(look, 0);
      return { line: () => undefined, stop: () => clearTimeout(timer) };
    });
  }

  #comesBack(number: number, milliseconds: number): Promise<boolean> {
    const back = this.#listen<boolean>((done) => {
      const timer = setTimeout(done, milliseconds, false);
      return {
        // *ESE? answers NR1 (IEEE 488.2 10.11.3), so a reading of the same value in NR2 or NR3 does not match.
        line: (text) => {
          if (/^ *\+?\d{1,3} *$/.test(text) && Number(text) === number) done(true);
        },
        stop: () => clearTimeout(timer),
      };
    });
    this.#lines.send(`*ESE ${number};*ESE?`);
    return back;
  }

  /** Takes all lines that come until `done` is called or the connection ends. */
  #listen<T>(start: (done: (result: T) => void) => { line: (text: string) => void; stop: () => void }): Promise<T> {
    return new Promise((resolve, reject) => {
      const leave = () => {
        this.#proof = null;
        listener.stop();
      };
      const listener = start((result) => {
        leave();
        resolve(result);
      });
      this.#proof = {
        line: listener.line,
        end: (why) => {
          leave();
          reject(why);
        },
      };
    });
  }

  #freshNumber(): number {
    let number = Math.floor(this.#options.random() * 256);
    while (this.#numbersUsed.includes(number)) number = (number + 1) % 256;
    // An answer to one of the last few may still come; older ones have been waited for many times over.
    this.#numbersUsed = [...this.#numbersUsed, number].slice(-MOST_NUMBERS_KEPT);
    return number;
  }
}
