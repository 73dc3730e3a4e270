import { setTimeout as wait } from 'node:timers/promises';
import { Problem } from '../../core/problem/problem.ts';
import { type ConnectOptions, connectMeter, reconnectMeter } from '../../instruments/meter/connect.ts';
import type { Meter, MeterSettingFound } from '../../instruments/meter/meter.ts';
import { openPtyPair, type PtyPair } from '../instruments/ptyPair.ts';
import { drawTrouble, type Piece, type Trouble } from './fault.ts';
import type { MeterAfar, MetersAfar } from './metersAfar.ts';
import { pieceOf } from './meterWorks.ts';
import type { LinkPlace } from './misbehavingMeter.ts';
import { type SeededRandom, seededRandom } from './seededRandom.ts';
import type { Tally } from './tally.ts';

export interface LanePlan {
  link: 'pty' | 'tcp';
  dialect: 'scpi' | 'one-command';
  seed: number;
  /** Which lane of the campaign it is; with the seed it says all that happens. */
  index: number;
  faults: number;
}

/** How the program comes to a meter; the product's way, unless a test shows what a worse one would do. */
export interface Connector {
  connect: typeof connectMeter;
  reconnect: typeof reconnectMeter;
}

export const product: Connector = { connect: connectMeter, reconnect: reconnectMeter };

/** No operation may take longer, whatever the meter does; the longest waits of the product are well below. */
const HANG_MILLISECONDS = 60_000;
/** Readings after the last fault was committed until a right one must have come. */
const MOST_READINGS = 12;
const MOST_CONNECTIONS = 6;
const SETTING = { function: '2-wire', range: { coversOhms: '20000' }, integrationCycles: 1 } as const;
const SETTING_FOUND: MeterSettingFound = {
  function: '2-wire',
  range: 'fixed',
  rangeOhms: '100000',
  integrationCycles: '1',
};

class Hang extends Error {}

/** One misbehaving meter, its line, and the program's meter at the other end. */
export class Lane {
  readonly #plan: LanePlan;
  readonly #tally: Tally;
  /** Draws the faults. How often the other is asked depends on when answers come, and the faults must not. */
  readonly #random: SeededRandom;
  readonly #otherRandom: SeededRandom;
  readonly #name: string;
  readonly #meters: MetersAfar;
  readonly #connector: Connector;
  #far: MeterAfar | null = null;
  #pair: PtyPair | null = null;
  #meter: Meter | null = null;
  #address = '';
  #replugging: Promise<void> = Promise.resolve();
  #round = 0;
  #piece = 0;

  constructor(plan: LanePlan, tally: Tally, meters: MetersAfar, connector: Connector) {
    this.#meters = meters;
    this.#connector = connector;
    this.#plan = plan;
    this.#tally = tally;
    this.#random = seededRandom(plan.seed, plan.index);
    this.#otherRandom = seededRandom(plan.seed, plan.index, 1);
    this.#name = `seed ${plan.seed}, lane ${plan.index} (${plan.link}, ${plan.dialect})`;
  }

  /** Connects ahead of the first round; where that fails, the round tries again and it is told. */
  async prepare(): Promise<void> {
    await this.#open().catch(() => this.#stop());
  }

  /** Commits the faults of this lane, one or two at a time; after each a right reading must be got again. */
  async run(): Promise<void> {
    try {
      for (let committed = 0; committed < this.#plan.faults; ) {
        const troubles = [drawTrouble(this.#random)];
        if (committed + 1 < this.#plan.faults && this.#random.chance(0.15))
          troubles.push(this.#secondTrouble(troubles[0]));
        committed += troubles.length;
        this.#round++;
        await this.#oneRound(troubles);
      }
    } finally {
      await this.#stop();
    }
  }

  // Where one command is taken per message nothing numbers an answer: one that overtakes others, together with another
  // that is lost, keeps the count right. An instrument with one line out never does that; a single one is found.
  #secondTrouble(first: Trouble | undefined): Trouble {
    const overtakes = (trouble: Trouble | undefined) => trouble?.name === 'answer among later ones';
    for (;;) {
      const second = drawTrouble(this.#random);
      if (this.#plan.dialect === 'scpi' || (!overtakes(first) && !overtakes(second))) return second;
      if (overtakes(first)) return { name: 'overload', piece: 'open' };
    }
  }

  async #oneRound(troubles: Trouble[]): Promise<void> {
    const problems: string[] = [];
    try {
      await this.#open();
      for (const trouble of troubles) {
        if ('fault' in trouble) await this.#far?.tell({ do: 'commit', fault: trouble.fault });
      }
      await this.#untilRight(troubles, problems);
      await this.#far?.tell({ do: 'behave' });
    } catch (failure) {
      const where = `${this.#name}, round ${this.#round}: ${JSON.stringify(troubles)} after ${problems.join(', ')}`;
      if (failure instanceof Hang) this.#tally.hangs.push(`${where}: ${failure.message} did not end`);
      else this.#tally.failures.push(`${where}: ${failure instanceof Error ? failure.stack : failure}`);
      // What is left of this meter tells nothing about the next fault.
      await this.#stop();
    }
    this.#tally.ended(
      troubles.map((trouble) => trouble.name),
      problems,
    );
  }

  async #untilRight(troubles: Trouble[], problems: string[]): Promise<void> {
    const odd = troubles.flatMap((trouble) => ('piece' in trouble ? [trouble.piece] : []));
    for (let readings = 0; readings < MOST_READINGS; ) {
      const piece: Piece = { number: this.#piece++, is: odd.shift() ?? 'in range' };
      const placed = await this.#far?.tell({ do: 'place', piece });
      const isCommitted = placed?.pending === 0;
      const found = await this.#readOne(piece);
      if (found instanceof Problem) {
        problems.push(found.code);
        if (found.code === 'meter-lost') await this.#connect(problems);
        // That piece was not judged and lies there again.
        if (piece.is !== 'in range') odd.unshift(piece.is);
      } else if (isCommitted && odd.length === 0) return;
      if (isCommitted) readings++;
    }
    throw new Error(`no right reading in ${MOST_READINGS} after the fault`);
  }

  /** Reads and compares with what lies on the probes. */
  async #readOne(piece: Piece): Promise<Problem | null> {
    const meter = this.#meter;
    if (!meter) throw new Error('no meter');
    this.#tally.readings++;
    const found = await this.#named('read', meter.read());
    if (found instanceof Problem) return found;
    const measured = pieceOf(found.raw);
    const isRight =
      found.kind === 'overload'
        ? piece.is === 'open'
        : measured?.number === piece.number && measured.is === piece.is && Number(found.ohms) === Number(found.raw);
    if (!isRight) {
      const what = `${found.said} was read of piece ${piece.number}, ${piece.is}`;
      this.#tally.wrong.push(`${this.#name}, round ${this.#round}: ${what}`);
    }
    return null;
  }

  /** A meter that is connected and set, at the beginning and after this lane had to be given up. */
  async #open(): Promise<void> {
    if (this.#meter) return;
    if (this.#plan.link === 'pty') this.#pair = await openPtyPair();
    const far = this.#meters.meter(() => this.#replug());
    this.#far = far;
    const opened = await far.tell({ do: 'open', place: this.#place });
    this.#address = `${this.#pair?.near ?? opened.address}?dialect=${this.#plan.dialect}`;
    this.#meter = await this.#bounded('connect', this.#connector.connect(this.#address, this.#options));
    await this.#configure([]);
  }

  /** Connects again and sets the meter, as the product does after a line was lost. */
  async #connect(problems: string[]): Promise<void> {
    if (!this.#meter) throw new Error('no meter was connected');
    const { identity } = this.#meter;
    await this.#bounded('close', this.#meter.close());
    for (let connections = 0; connections < MOST_CONNECTIONS; connections++) {
      const signal = AbortSignal.timeout(HANG_MILLISECONDS);
      const options = { ...this.#options, signal };
      const meter = await this.#named('reconnect', this.#connector.reconnect(this.#address, identity, options));
      const isAnother = (await this.#far?.tell({ do: 'place', piece: { number: 0, is: 'open' } }))?.isAnother;
      if (meter instanceof Problem) {
        problems.push(meter.code);
        if (meter.code === 'meter-other') await this.#far?.tell({ do: 'behave' });
        continue;
      }
      if (isAnother)
        this.#tally.wrong.push(`${this.#name}, round ${this.#round}: another meter was taken for the first`);
      this.#meter = meter;
      if (await this.#configure(problems)) return;
      await this.#bounded('close', meter.close());
    }
    throw new Error(`not connected again in ${MOST_CONNECTIONS} times`);
  }

  /** Whether the meter is set; false if it was lost again. */
  async #configure(problems: string[]): Promise<boolean> {
    for (let attempts = 0; attempts < MOST_READINGS; attempts++) {
      const found = await this.#named(
        'configure',
        this.#meter?.configure(SETTING) ?? Promise.reject(new Error('no meter')),
      );
      if (found instanceof Problem) {
        problems.push(found.code);
        if (found.code === 'meter-lost') return false;
        continue;
      }
      if (JSON.stringify(found) !== JSON.stringify(SETTING_FOUND)) {
        this.#tally.wrong.push(`${this.#name}, round ${this.#round}: the setting was read as ${JSON.stringify(found)}`);
      }
      return true;
    }
    throw new Error(`not set in ${MOST_READINGS} times`);
  }

  get #place(): LinkPlace {
    return this.#pair ? { kind: 'pty', path: this.#pair.far } : { kind: 'tcp' };
  }

  get #options(): ConnectOptions {
    return { random: () => this.#otherRandom.fraction(), bench: {}, onLost: () => undefined };
  }

  /** Pulls both ends out and plugs them in again, as the meter asked. */
  #replug(): void {
    const pause = this.#otherRandom.pick([0, this.#otherRandom.whole(1, 700)]);
    this.#replugging = this.#replugging.then(async () => {
      await this.#pair?.unplug();
      await wait(pause);
      await this.#pair?.plugIn();
      await this.#far?.tell({ do: 'open', place: this.#place });
    });
    this.#replugging.catch((failure) => this.#tally.failures.push(`${this.#name}: ${failure}`));
  }

  /** What came of it; a named problem is a result, anything else is thrown. */
  async #named<T>(what: string, operation: Promise<T>): Promise<T | Problem> {
    try {
      return await this.#bounded(what, operation);
    } catch (failure) {
      if (failure instanceof Problem && failure.code !== 'defect') return failure;
      throw failure;
    }
  }

  async #bounded<T>(what: string, operation: Promise<T>): Promise<T> {
    const ends = new AbortController();
    const tooLong = wait(HANG_MILLISECONDS, undefined, { signal: ends.signal }).then(() => {
      throw new Hang(what);
    });
    tooLong.catch(() => undefined);
    try {
      return await Promise.race([operation, tooLong]);
    } finally {
      ends.abort();
    }
  }

  async #stop(): Promise<void> {
    const [meter, far, pair] = [this.#meter, this.#far, this.#pair];
    this.#meter = null;
    this.#far = null;
    this.#pair = null;
    const closed = meter ? this.#bounded('close', meter.close()) : Promise.resolve();
    await closed.catch(() => this.#tally.hangs.push(`${this.#name}, round ${this.#round}: close did not end`));
    await this.#replugging.catch(() => undefined);
    await far?.tell({ do: 'close' });
    await pair?.stop();
  }
}
