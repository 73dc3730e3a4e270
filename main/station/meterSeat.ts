import { setTimeout as wait } from 'node:timers/promises';
import type { MeterData } from '../../core/accuracy/meterData.ts';
import type { MeterLink } from '../../core/contract/contract.ts';
import { type Command, mustBeOpen } from '../../core/inspection/decide.ts';
import type { MeterFacts } from '../../core/inspection/event.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem, type ProblemCode, problem } from '../../core/problem/problem.ts';
import type { BenchScenarioInput } from '../../instruments/bench/scenario.ts';
import { type ConnectOptions, connectMeter, reconnectMeter } from '../../instruments/meter/connect.ts';
import type { Dialect } from '../../instruments/meter/dialect.ts';
import type { Identity, Meter } from '../../instruments/meter/meter.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { setAsBefore, setForRun } from './meterSetting.ts';

const LOST: ReadonlySet<ProblemCode> = new Set(['meter-lost', 'meter-silent', 'meter-not-in-step']);
/** What a meter that was just switched on may say before it is itself. */
const STARTING: ReadonlySet<ProblemCode> = new Set([
  'answer-garbled',
  'answer-out-of-step',
  'answer-too-long',
  'answer-unreadable',
  'line-echoes',
  'meter-error',
  'meter-restarted',
  'question-refused',
]);
const MOST_STARTS = 10;
const AGAIN_MILLISECONDS = 500;

interface Surroundings {
  runOf: (run: number) => Run;
  act: (run: number, command: Command) => unknown;
  tell: (link: MeterLink) => void;
  /** What lies on the simulated bench for a run. */
  benchOf: (number: number, run: Run, address: string) => Promise<BenchScenarioInput>;
  /** Dialects of the user's own. */
  ownDialects: () => Promise<readonly Dialect[]>;
  /** Accuracy and calibration of the meter that answers there; null where nobody entered them. */
  dataOf: (identity: Identity, address: string) => Promise<MeterData | null>;
}

/**
 * The one place for a meter at this station: connects it for a run, notices when it is lost, interrupts the run, and
 * goes on when the same meter is back.
 */
export class MeterSeat {
  #link: MeterLink = { state: 'none' };
  #meter: Meter | null = null;
  /** Why the meter that is being connected was lost before it took its seat. */
  #lostEarly: Problem | null = null;
  /** Ends whatever is under way with the present meter, connecting again included. */
  #leaving = new AbortController();
  readonly #around: Surroundings;

  constructor(around: Surroundings) {
    this.#around = around;
  }

  get link(): MeterLink {
    return this.#link;
  }

  /** The meter connected for this run. @throws problem meter-missing */
  meterOf(run: number): Meter {
    if (!this.#meter || this.#link.state !== 'connected' || this.#link.run !== run) throw problem('meter-missing');
    return this.#meter;
  }

  /** Connects the meter at an address for a run, in place of any other, and sets it for the run's measurement. */
  async connect(number: number, address: string): Promise<void> {
    const run = this.#around.runOf(number);
    // Before anything that sits here is let go.
    mustBeOpen(run);
    readAddress(address);
    const { leaving, gone } = this.#clear();
    this.#lostEarly = null;
    let meter: Meter | null = null;
    try {
      await gone;
      leaving.signal.throwIfAborted();
      this.#say({ state: 'connecting', run: number, address });
      meter = await connectMeter(address, await this.#options(run, number, address, leaving.signal));
      const facts = await this.#factsOf(meter, run, address);
      leaving.signal.throwIfAborted();
      if (this.#lostEarly) throw this.#lostEarly;
      this.#around.act(number, { type: 'connect-meter', meter: facts });
      this.#seat(meter, number, address);
    } catch (thrown) {
      await meter?.close();
      if (this.#leaving === leaving) this.#say({ state: 'none' });
      throw leaving.signal.aborted ? problem('meter-missing') : thrown;
    }
  }

  /** Sets the meter of this run anew with what is known of it now, as if it had just been connected. */
  async connectAnew(number: number): Promise<void> {
    const meter = this.meterOf(number);
    const run = this.#around.runOf(number);
    try {
      const facts = await this.#factsOf(meter, run, this.#link.state === 'connected' ? this.#link.address : '');
      if (this.#meter !== meter) throw problem('meter-missing');
      this.#around.act(number, { type: 'connect-meter', meter: facts });
    } catch (thrown) {
      // It may be on another range by now than the one that the checks were done on.
      this.#around.act(number, { type: 'expire-readiness', why: 'setting the meter anew came to nothing' });
      throw thrown;
    }
  }

  /** Lets the meter go: local control given back, port free. Never fails. */
  async release(): Promise<void> {
    await this.#clear().gone;
  }

  /**
   * Ends whatever is under way and empties the seat, at once; `gone` resolves when the meter that sat there has let its
   * port go. `leaving` is the next occupant's: whoever clears the seat later aborts it.
   */
  #clear(): { leaving: AbortController; gone: Promise<void> } {
    this.#leaving.abort();
    const leaving = new AbortController();
    this.#leaving = leaving;
    const meter = this.#meter;
    this.#meter = null;
    if (this.#link.state !== 'none') this.#say({ state: 'none' });
    return { leaving, gone: meter ? meter.close().catch(() => undefined) : Promise.resolve() };
  }

  #seat(meter: Meter, run: number, address: string): void {
    this.#meter = meter;
    this.#say({ state: 'connected', run, address, simulated: meter.identity.simulated });
  }

  #say(link: MeterLink): void {
    this.#link = link;
    this.#around.tell(link);
  }

  /** Sets the meter for the run and says all that a run keeps of it. */
  async #factsOf(meter: Meter, run: Run, address: string): Promise<MeterFacts> {
    const { identity, dialect, measures, isSetByHand } = meter;
    const data = await this.#around.dataOf(identity, address);
    const setting = await setForRun(meter, run, data);
    return { address, identity, setting, dialect, setByHand: isSetByHand, measures: [...measures], data };
  }

  async #options(run: Run, number: number, address: string, signal: AbortSignal) {
    return {
      random: Math.random,
      bench: await this.#around.benchOf(number, run, address),
      dialects: await this.#around.ownDialects(),
      signal,
      onLost: (why: Problem) => {
        if (signal.aborted) return;
        // While it is being connected or brought back, whoever does that is told.
        if (this.#link.state === 'connected') void this.#bringBack(number, address, why, signal);
        else this.#lostEarly = why;
      },
    } satisfies ConnectOptions;
  }

  async #bringBack(number: number, address: string, why: Problem, signal: AbortSignal): Promise<void> {
    const lost = this.#meter;
    this.#meter = null;
    const run = this.#around.runOf(number);
    const known = run.meter?.identity;
    if (!known) return;
    this.#interrupted(number, address, why);
    await lost?.close().catch(() => undefined);
    for (let attempt = 1; !signal.aborted; attempt++) {
      let meter: Meter | null = null;
      this.#lostEarly = null;
      try {
        meter = await reconnectMeter(address, known, await this.#options(run, number, address, signal));
        // Switched off and on, a meter has forgotten its settings: set it again before anything counts.
        await setAsBefore(meter, this.#around.runOf(number));
        signal.throwIfAborted();
        if (this.#lostEarly) throw this.#lostEarly;
        this.#around.act(number, { type: 'continue' });
        this.#seat(meter, number, address);
        return;
      } catch (thrown) {
        await meter?.close().catch(() => undefined);
        if (signal.aborted) return;
        const found = asProblem(thrown);
        this.#interrupted(number, address, found);
        // Lost again in the middle: look for it again. Anything else is for a person to put right.
        if (!LOST.has(found.code) && !(STARTING.has(found.code) && attempt < MOST_STARTS)) return;
        await wait(AGAIN_MILLISECONDS, undefined, { signal }).catch(() => undefined);
      }
    }
  }

  #interrupted(run: number, address: string, why: Problem): void {
    this.#say({ state: 'lost', run, address, why: why.toJSON() });
    try {
      this.#around.act(run, { type: 'interrupt', why: why.what });
    } catch {
      // The record can't take it (disk full): the link still says that the meter is lost, and no reading is taken.
    }
  }
}
