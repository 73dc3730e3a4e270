import { setTimeout as wait } from 'node:timers/promises';
import type { MeterLink } from '../../core/contract/contract.ts';
import { type Command, mustBeOpen } from '../../core/inspection/decide.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem, type ProblemCode, problem } from '../../core/problem/problem.ts';
import { type ConnectOptions, connectMeter, reconnectMeter } from '../../instruments/meter/connect.ts';
import type { Identity, Meter, MeterSetting, MeterSettingFound } from '../../instruments/meter/meter.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { benchFor } from './benchFor.ts';

const LOST: ReadonlySet<ProblemCode> = new Set(['meter-lost', 'meter-silent']);
const STARTING: ReadonlySet<ProblemCode> = new Set(['answer-unreadable', 'answer-too-long', 'meter-error']);
const MOST_STARTS = 10;
const AGAIN_MILLISECONDS = 1000;

interface Surroundings {
  runOf: (run: number) => Run;
  act: (run: number, command: Command) => unknown;
  tell: (link: MeterLink) => void;
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
      meter = await connectMeter(address, this.#options(run, number, address, leaving.signal));
      const setting = await meter.configure(settingFor(run));
      leaving.signal.throwIfAborted();
      if (this.#lostEarly) throw this.#lostEarly;
      this.#around.act(number, { type: 'connect-meter', meter: factsOf(address, meter.identity, setting) });
      this.#seat(meter, number, address);
    } catch (thrown) {
      await meter?.close();
      if (this.#leaving === leaving) this.#say({ state: 'none' });
      throw leaving.signal.aborted ? problem('meter-missing') : thrown;
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

  #options(run: Run, number: number, address: string, signal: AbortSignal): ConnectOptions {
    return {
      random: Math.random,
      bench: benchFor(number, run, address),
      signal,
      onLost: (why) => {
        if (signal.aborted) return;
        // While it is being connected or brought back, whoever does that is told.
        if (this.#link.state === 'connected') void this.#bringBack(number, address, why, signal);
        else this.#lostEarly = why;
      },
    };
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
        meter = await reconnectMeter(address, known, { ...this.#options(run, number, address, signal), signal });
        // Switched off and on, a meter has forgotten its settings: set it again before anything counts.
        const found = await meter.configure(settingFor(run));
        signal.throwIfAborted();
        if (this.#lostEarly) throw this.#lostEarly;
        mustBeAsBefore(run, found);
        this.#around.act(number, { type: 'continue' });
        this.#seat(meter, number, address);
        return;
      } catch (thrown) {
        await meter?.close().catch(() => undefined);
        if (signal.aborted) return;
        const found = asProblem(thrown);
        this.#interrupted(number, address, found);
        // Lost again in the middle: look for it again. A meter that was just switched on may first have noise to send
        // and errors to tell. Anything else is for a person to put right.
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

/** The setting a run asks for: the fixed range that holds its window, or the meter's own choice. */
function settingFor({ measurement, window }: Run): MeterSetting {
  return {
    function: measurement.method,
    range: measurement.range === 'window' && window.upper !== null ? { coversOhms: window.upper } : 'auto',
    integrationCycles: Number(measurement.integrationCycles),
  };
}

function factsOf(address: string, identity: Identity, setting: MeterSettingFound) {
  return { address, identity, setting };
}

/** A certificate names one setting; readings under another one must not join it. @throws problem setting-not-taken */
function mustBeAsBefore(run: Run, found: MeterSettingFound): void {
  const before = run.meter?.setting;
  for (const name of ['function', 'range', 'rangeOhms', 'integrationCycles'] as const) {
    if (before && before[name] !== found[name] && !(name === 'rangeOhms' && found.range === 'auto')) {
      throw problem('setting-not-taken', name, String(before[name]), String(found[name]));
    }
  }
}
