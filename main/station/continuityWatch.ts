import type { Continuity } from '../../core/contract/live.ts';
import { asProblem, Problem, problem } from '../../core/problem/problem.ts';
import type { DecimalText } from '../../core/quantity/decimal.ts';
import { type ConnectOptions, connectMeter } from '../../instruments/meter/connect.ts';
import type { Meter } from '../../instruments/meter/meter.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { isHiccup } from './hiccups.ts';

export interface ContinuityAround {
  /** Dialects of the user's own. */
  ownDialects: () => Promise<ConnectOptions['dialects']>;
  tell: (continuity: Continuity) => void;
  clock: () => number;
}

/** As short as meters commonly integrate without losing more than a digit or two. */
const SHORTEST_CYCLES = 0.2;
const TOLD_MILLISECONDS = 40;

/**
 * A meter at an address that does nothing but tell closed from open, without a run and without a record: 2-wire, on the lowest
 * range that covers what still counts as closed, as quickly as it can.
 */
export class ContinuityWatch {
  readonly #around: ContinuityAround;
  #ending: AbortController | null = null;
  #done: Promise<void> = Promise.resolve();
  #state: Continuity | null = null;
  #toldAt = Number.NEGATIVE_INFINITY;

  constructor(around: ContinuityAround) {
    this.#around = around;
  }

  /** How things stand, or how they ended; null before the first. */
  get state(): Continuity | null {
    return this.#state;
  }

  get isOn(): boolean {
    return this.#ending !== null;
  }

  /**
   * Connects and begins, in place of a watch that is on.
   * @throws {Problem} those of `connectMeter` and of `Meter.configure`
   */
  async start(address: string, closedBelowOhms: DecimalText): Promise<void> {
    readAddress(address);
    await this.stop();
    const ending = new AbortController();
    this.#ending = ending;
    const lost: { by: Problem | null } = { by: null };
    const connected = this.#connect(address, closedBelowOhms, ending, lost);
    // Whoever stops it before it has begun waits until the port is free.
    this.#done = connected.then(
      () => undefined,
      () => undefined,
    );
    try {
      const meter = await connected;
      const { simulated } = meter.identity;
      this.#done = this.#watch(meter, { address, simulated, closedBelowOhms }, ending, lost);
    } catch (thrown) {
      if (this.#ending === ending) this.#ending = null;
      if (lost.by) throw lost.by;
      throw ending.signal.aborted ? problem('meter-missing') : thrown;
    }
  }

  async #connect(
    address: string,
    closedBelowOhms: DecimalText,
    ending: AbortController,
    lost: { by: Problem | null },
  ): Promise<Meter> {
    // A connection that was made is not cut by this one: the meter is to be given back in order.
    const connecting = new AbortController();
    const giveUp = () => connecting.abort();
    ending.signal.addEventListener('abort', giveUp);
    const meter = await connectMeter(address, {
      random: Math.random,
      bench: {},
      dialects: (await this.#around.ownDialects()) ?? [],
      signal: connecting.signal,
      onLost: (why) => {
        lost.by = why;
        ending.abort();
      },
    }).finally(() => ending.signal.removeEventListener('abort', giveUp));
    try {
      await setShort(meter, closedBelowOhms);
      await meter.hands?.tap();
      ending.signal.throwIfAborted();
      return meter;
    } catch (thrown) {
      await meter.close();
      throw thrown;
    }
  }

  /** Ends the watch and frees the port. Never fails. */
  async stop(): Promise<void> {
    this.#ending?.abort();
    await this.#done;
  }

  async #watch(
    meter: Meter,
    watched: { address: string; simulated: boolean; closedBelowOhms: DecimalText },
    ending: AbortController,
    lost: { by: Problem | null },
  ): Promise<void> {
    let why: Problem | null = null;
    let hiccups = 0;
    while (!ending.signal.aborted && why === null) {
      try {
        const reading = await meter.glance();
        hiccups = 0;
        const ohms = reading.kind === 'value' ? reading.ohms : null;
        const closed = ohms !== null && Number(ohms) < Number(watched.closedBelowOhms);
        this.#say({ on: true, closed, ohms, ...watched });
      } catch (thrown) {
        hiccups++;
        if (!isHiccup(thrown, hiccups) && !ending.signal.aborted) why = asProblem(thrown);
      }
    }
    await meter.close().catch(() => undefined);
    if (this.#ending === ending) this.#ending = null;
    const found = lost.by ?? why;
    this.#say(found ? { on: false, why: found.toJSON() } : { on: false });
  }

  /** A change is told at once, the rest not too often. */
  #say(state: Continuity): void {
    const before = this.#state;
    this.#state = state;
    const isNew = before?.on !== state.on || (before.on && state.on && before.closed !== state.closed);
    const now = this.#around.clock();
    if (!isNew && now - this.#toldAt < TOLD_MILLISECONDS) return;
    this.#toldAt = now;
    this.#around.tell(state);
  }
}

/** A meter whose range cannot be chosen is left to choose it. */
async function setShort(meter: Meter, coversOhms: DecimalText): Promise<void> {
  const setting = { function: '2-wire', integrationCycles: SHORTEST_CYCLES } as const;
  try {
    await meter.configure({ ...setting, range: { coversOhms } });
  } catch (thrown) {
    if (!(thrown instanceof Problem) || thrown.code !== 'setting-not-taken') throw thrown;
    await meter.configure({ ...setting, range: 'auto' });
  }
}
