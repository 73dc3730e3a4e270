import type { MeterData } from '../../core/accuracy/meterData.ts';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import { type ContinuityCommand, mustGoOn } from '../../core/continuity/decide.ts';
import type { ContinuityLink } from '../../core/contract/contract.ts';
import type { MeterFacts } from '../../core/inspection/event.ts';
import { Problem, problem } from '../../core/problem/problem.ts';
import { compareDecimals } from '../../core/quantity/decimal.ts';
import { connectMeter } from '../../instruments/meter/connect.ts';
import type { Dialect } from '../../instruments/meter/dialect.ts';
import type { Identity, Meter, MeterSettingFound } from '../../instruments/meter/meter.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { benchForWiring } from './benchForWiring.ts';

/** Fast enough to go from point to point, and steady enough for a limit of half an ohm. */
const CYCLES = 0.2;

interface Around {
  runOf: (run: number) => ContinuityRun;
  act: (run: number, command: ContinuityCommand) => unknown;
  tell: (link: ContinuityLink) => void;
  ownDialects: () => Promise<readonly Dialect[]>;
  /** Accuracy and calibration of the meter that answers there; null where nobody entered them. */
  dataOf: (identity: Identity, address: string) => Promise<MeterData | null>;
  /** Something that went by the meter must end: it is gone. */
  onLost: (why: Problem) => void;
}

/**
 * The place for the meter of a continuity run. A meter that is lost is not looked for: somebody has to see to it, connects it again, and
 * the leads are checked anew, because nobody knows what was moved meanwhile.
 */
export class ContinuitySeat {
  readonly #around: Around;
  #link: ContinuityLink = { state: 'none' };
  #meter: Meter | null = null;
  #leaving = new AbortController();

  constructor(around: Around) {
    this.#around = around;
  }

  get link(): ContinuityLink {
    return this.#link;
  }

  /** The meter connected for this run. @throws problem meter-missing */
  meterOf(run: number): Meter {
    if (!this.#meter || this.#link.state !== 'connected' || this.#link.run !== run) throw problem('meter-missing');
    return this.#meter;
  }

  /** Connects the meter at an address for a run, in place of any other, and sets it. @throws those of connectMeter, meter-other, run-decided */
  async connect(number: number, address: string): Promise<void> {
    const run = this.#around.runOf(number);
    // Before anything that sits here is let go.
    mustGoOn(run);
    readAddress(address);
    await this.release();
    const leaving = new AbortController();
    this.#leaving = leaving;
    const lost: { by: Problem | null } = { by: null };
    let meter: Meter | null = null;
    this.#say({ state: 'connecting', run: number, address });
    try {
      meter = await connectMeter(address, {
        random: Math.random,
        bench: benchForWiring(number, run.points, address),
        dialects: await this.#around.ownDialects(),
        signal: leaving.signal,
        onLost: (why) => {
          lost.by = why;
          if (!leaving.signal.aborted && this.#link.state === 'connected') this.#lost(number, address, why);
        },
      });
      const facts = await this.#factsOf(meter, run, address);
      leaving.signal.throwIfAborted();
      if (lost.by) throw lost.by;
      this.#around.act(number, { type: 'connect-meter', meter: facts });
      this.#meter = meter;
      this.#say({ state: 'connected', run: number, address, simulated: meter.identity.simulated });
    } catch (thrown) {
      await meter?.close().catch(() => undefined);
      if (this.#leaving === leaving) this.#say({ state: 'none' });
      throw leaving.signal.aborted ? problem('meter-missing') : thrown;
    }
  }

  /** Lets the meter go: local control given back, port free. Never fails. */
  async release(): Promise<void> {
    this.#leaving.abort();
    const meter = this.#meter;
    this.#meter = null;
    if (this.#link.state !== 'none') this.#say({ state: 'none' });
    await meter?.close().catch(() => undefined);
  }

  #lost(run: number, address: string, why: Problem): void {
    const meter = this.#meter;
    this.#meter = null;
    void meter?.close().catch(() => undefined);
    this.#say({ state: 'lost', run, address, why: why.toJSON() });
    this.#around.onLost(why);
    try {
      this.#around.act(run, { type: 'lapse', why: why.what });
    } catch {
      // A full disk: without a meter nothing is read, and connecting it again asks for all checks anyway.
    }
  }

  async #factsOf(meter: Meter, run: ContinuityRun, address: string): Promise<MeterFacts> {
    const { identity, dialect, measures, isSetByHand } = meter;
    const setting = await setForPoints(meter, run);
    const data = await this.#around.dataOf(identity, address);
    return { address, identity, setting, dialect, setByHand: isSetByHand, measures: [...measures], data };
  }

  #say(link: ContinuityLink): void {
    this.#link = link;
    this.#around.tell(link);
  }
}

/** 2-wire on the lowest range that covers every limit for closed; a meter whose range cannot be chosen is left to choose it. */
async function setForPoints(meter: Meter, run: ContinuityRun): Promise<MeterSettingFound> {
  const limits = run.points.flatMap(({ expected, limitOhms }) =>
    expected === 'closed' && limitOhms ? [limitOhms] : [],
  );
  const coversOhms = [run.limits.closedBelowOhms, ...limits].reduce((a, b) => (compareDecimals(b, a) > 0 ? b : a));
  const setting = { function: '2-wire', integrationCycles: CYCLES } as const;
  try {
    return await meter.configure({ ...setting, range: { coversOhms } });
  } catch (thrown) {
    if (!(thrown instanceof Problem) || thrown.code !== 'setting-not-taken') throw thrown;
    return meter.configure({ ...setting, range: 'auto' });
  }
}
