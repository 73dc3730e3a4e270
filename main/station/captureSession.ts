import { isDeepStrictEqual } from 'node:util';
import { farFactor } from '../../core/capture/agreement.ts';
import type { Capture, LiveReading, Outcome } from '../../core/capture/capture.ts';
import { ARMED, notCounted, sayOpen, take } from '../../core/capture/capture.ts';
import { captureWords } from '../../core/capture/captureWords.ts';
import { type CaptureChoice, type CaptureSetting, settingFor } from '../../core/capture/setting.ts';
import type { CaptureStarted, Live, LiveBy, LiveOutcome, LivePhase } from '../../core/contract/live.ts';
import { nextPiece, pieceToPlace, type Run } from '../../core/inspection/run.ts';
import { asProblem, Problem, type ProblemCode, problem } from '../../core/problem/problem.ts';
import type { Meter, Reading } from '../../instruments/meter/meter.ts';
import { isHiccup } from './hiccups.ts';
import { RangeLook } from './rangeLook.ts';

/** What a capture session needs of the station around it. */
export interface CaptureAround {
  runOf: (run: number) => Run;
  /** @throws problem meter-missing */
  meterOf: (run: number) => Meter;
  /** Has the meter for one thing at a time. */
  withMeter: <T>(run: number, use: () => Promise<T>) => Promise<T>;
  /** Refuses where a reading could not count. */
  mustTakeReadings: (run: number) => void;
  /** Before the hands of a simulated bench take the next piece: whose they are may matter. */
  handOver: (run: number) => Promise<void>;
  /** Keeps a reading that counts; returns the piece it is of. */
  record: (run: number, reading: Reading) => number;
  tell: (live: Live) => void;
  /** Milliseconds of a clock that only goes forward. */
  clock: () => number;
}

/** A capture that is on. */
interface Ongoing {
  readonly run: number;
  readonly by: LiveBy;
  /** What a person chose of its setting. */
  readonly choice: CaptureChoice;
  readonly started: CaptureStarted;
  readonly setting: CaptureSetting;
  readonly look: RangeLook;
  capture: Capture;
  /** The piece that was counted last and is still held. */
  held: number | null;
  /** When the meter's trigger came last. */
  triggeredAt: number;
  /** Why it is to end; undefined while it goes on. */
  ending: { why: Problem | null } | undefined;
  /** Who wants the meter or the run to themselves. */
  asides: Set<Promise<void>>;
  /** Ends the wait for the meter's trigger. */
  interrupt: AbortController;
  /** The step that is under way. */
  step: Promise<void>;
  hiccups: number;
  /** Resolves when all of it has ended. */
  done: Promise<void>;
}

/** Most times a second that how the probes stand is told. */
const TOLD_MILLISECONDS = 40;
/** What a reading may be that does not count; the next one may. */
const NOT_COUNTED: ReadonlySet<ProblemCode> = new Set([
  'reading-negative',
  'reading-too-coarse',
  'study-piece-open',
  'temperature-impossible',
]);
/** A foot switch that bounces is pressed once. */
const SAME_PRESS_MILLISECONDS = 300;
/** Shorter than any reading takes: then nothing is known of how long one does. */
const SHORTEST_READING_MILLISECONDS = 2;

const TROUBLE_WORDS = {
  unsteady: 'The contact does not settle. Press the probes on anew, on clean places',
  'changed-without-release':
    'The reading has moved away and the leads were not open for long enough: it does not count. Lift the probes',
  'lifted-too-soon': 'Something was on the probes, but not for long enough: it does not count. Put it on again',
  'same-again':
    'It reads as the piece before and came at once: it may be that piece and does not count. If it is the next one, lift it for half a second',
  'open-conducts':
    'It conducts right after a piece counted as open: it may be that piece and does not count. Void that one, or lift the next one and put it on again',
} as const;
const NOT_THE_SAME =
  'The contact was not steady when the trigger came: the reading does not count. Press the probes on and trigger again';
const CONDUCTS = 'It was said to be open, and it conducts: it does not count. Lift the probes and put them on again';

/**
 * Takes readings by itself for as long as they may count: whenever a piece settles between the probes, or whenever the meter's
 * own trigger comes. Every reading of the meter goes through `core/capture`; the one that is captured is kept like any other.
 * There is one capture at a time, and it has the meter only from one reading to the next: whoever else wants it is let in
 * between two (`aside`), or ends the capture (`stop`).
 */
export class CaptureSession {
  readonly #around: CaptureAround;
  #on: Ongoing | null = null;
  #live: Live | null = null;
  #toldAt = Number.NEGATIVE_INFINITY;
  /** How many captures there were so far. */
  #captures = 0;
  /** Starting and stopping, one after the other. */
  #turn: Promise<unknown> = Promise.resolve();

  constructor(around: CaptureAround) {
    this.#around = around;
  }

  /** How the probes stand, or the way the last capture ended; null before the first. */
  get live(): Live | null {
    return this.#live;
  }

  /** Whether a capture is on. */
  get isOn(): boolean {
    return this.#on !== null;
  }

  /**
   * Begins. A capture that is on goes on as it is where the same is asked for, by another screen or one that was loaded anew;
   * else what is asked for now takes its place.
   * @throws {Problem} those of `mustTakeReadings`, meter-missing, trigger-missing, reading-under-way, and those of
   *   `Meter.glance`
   */
  start(run: number, by: LiveBy, choice: CaptureChoice): Promise<CaptureStarted> {
    return this.#inTurn(async () => {
      this.#around.mustTakeReadings(run);
      const meter = this.#around.meterOf(run);
      if (by === 'trigger' && !meter.hasTrigger) throw problem('trigger-missing', meter.dialect);
      if (this.#on && isSame(this.#on, run, by, choice)) return this.#on.started;
      await this.#end(this.#on?.run === run ? null : problem('capture-ended', 'they are taken in another run now'));
      await this.#takePieces(run);
      const milliseconds = by === 'hands' ? await this.#readingMilliseconds(run, meter) : undefined;
      const setting = settingFor(this.#around.runOf(run), choice, milliseconds);
      const started = { capture: ++this.#captures, setting, words: captureWords(setting) };
      const on = this.#begun(run, by, choice, started);
      this.#on = on;
      this.#tell(on, {});
      on.done = this.#go(on);
      return started;
    });
  }

  /**
   * Ends the capture that is on, if one is; the meter is free then, and nothing that was under way counts.
   * @param why null where somebody asked for it; @param number ends this one only
   */
  stop(why: Problem | null = null, number: number | null = null): Promise<void> {
    return this.#inTurn(async () => {
      if (number === null || this.#on?.started.capture === number) await this.#end(why);
    });
  }

  /**
   * Somebody says that the piece that is held is open.
   * @throws {Problem} capture-off; reading-under-way while something else has the meter, after which nothing said before holds
   */
  sayOpen(run: number): void {
    const on = this.#on;
    if (on?.run !== run || on.by !== 'hands') throw problem('capture-off');
    if (on.asides.size > 0) throw problem('reading-under-way');
    const before = on.capture;
    on.capture = sayOpen(before, this.#around.clock());
    if (on.capture !== before) this.#tell(on, { outcome: 'open-said' });
  }

  /**
   * Does something that must not meet a reading: the capture holds still meanwhile. Afterwards what is on the probes must be
   * lifted before anything counts, since the next piece may be another one than whoever holds it thinks.
   */
  async aside<T>(use: () => T | Promise<T>): Promise<T> {
    // One that is about to begin or to end has the meter for a moment, and nobody is refused for that.
    await this.#turn;
    const on = this.#on;
    if (!on) return use();
    const { promise: over, resolve } = Promise.withResolvers<void>();
    on.asides.add(over);
    on.interrupt.abort();
    try {
      await on.step.catch(() => undefined);
      return await use();
    } finally {
      on.asides.delete(over);
      on.capture = ARMED;
      on.held = null;
      resolve();
    }
  }

  #inTurn<T>(act: () => Promise<T>): Promise<T> {
    const done = this.#turn.then(act);
    this.#turn = done.catch(() => undefined);
    return done;
  }

  async #end(why: Problem | null): Promise<void> {
    const on = this.#on;
    if (!on) return;
    on.ending ??= { why };
    on.interrupt.abort();
    await on.done;
  }

  #begun(run: number, by: LiveBy, choice: CaptureChoice, started: CaptureStarted): Ongoing {
    return {
      run,
      by,
      choice,
      started,
      setting: started.setting,
      look: new RangeLook(),
      capture: ARMED,
      held: null,
      triggeredAt: Number.NEGATIVE_INFINITY,
      ending: undefined,
      asides: new Set(),
      interrupt: new AbortController(),
      step: Promise.resolve(),
      hiccups: 0,
      done: Promise.resolve(),
    };
  }

  /** How long one reading takes, as the present ones do; undefined where that is too short to be true. */
  async #readingMilliseconds(run: number, meter: Meter): Promise<number | undefined> {
    return this.#around.withMeter(run, async () => {
      // Of a talker a whole line that began by now: the one before may be from when it was turned to something else.
      await meter.read();
      const began = this.#around.clock();
      await meter.glance();
      const milliseconds = this.#around.clock() - began;
      return milliseconds < SHORTEST_READING_MILLISECONDS ? undefined : milliseconds;
    });
  }

  /** Step after step until it ends. Never rejects. */
  async #go(on: Ongoing): Promise<void> {
    let why: Problem | null = null;
    try {
      while (!on.ending) {
        on.step = on.by === 'hands' ? this.#byHands(on) : this.#byTrigger(on);
        await on.step;
        // Somebody else may come while the hands take up the next piece.
        while (on.asides.size > 0) await this.#letIn(on);
      }
      why = on.ending.why;
    } catch (thrown) {
      why = asProblem(thrown);
    }
    on.step = this.#restHands(on);
    await on.step;
    this.#on = null;
    this.#toldAt = Number.NEGATIVE_INFINITY;
    this.#say({ ...this.#liveOf(on, {}), phase: 'off', ohms: null, steady: 0, ...(why && { why: why.toJSON() }) });
  }

  async #letIn(on: Ongoing): Promise<void> {
    this.#tell(on, { phase: 'waiting', ohms: null });
    while (on.asides.size > 0) await Promise.all(on.asides);
    on.interrupt = new AbortController();
    if (on.ending) return;
    this.#around.mustTakeReadings(on.run);
    if (!this.#around.meterOf(on.run).hands) return;
    on.step = this.#takePieces(on.run);
    await on.step;
  }

  /** The hands of a simulated bench take piece after piece from now on, beginning with the one that is asked for. */
  #takePieces(run: number): Promise<void> {
    const { hands } = this.#around.meterOf(run);
    return this.#around.withMeter(run, async () => {
      await this.#around.handOver(run);
      await hands?.takePieces(pieceToPlace(this.#around.runOf(run)));
    });
  }

  /** The hands of a simulated bench; a meter that is gone has none. */
  async #restHands(on: Ongoing): Promise<void> {
    try {
      const { hands } = this.#around.meterOf(on.run);
      if (hands) await this.#around.withMeter(on.run, () => hands.lift());
    } catch {
      // Whoever ended the capture knows already what is wrong with the meter.
    }
  }

  async #byHands(on: Ongoing): Promise<void> {
    this.#around.mustTakeReadings(on.run);
    const meter = this.#around.meterOf(on.run);
    const run = this.#around.runOf(on.run);
    const began = this.#around.clock();
    const anyRange = on.look.wantsAnyRange(run, on.capture, began);
    const reading = await this.#unlessHiccup(on, () => (anyRange ? meter.glanceOnAnyRange() : meter.glance()));
    if (!reading || isInterrupted(on)) return;
    const at = this.#around.clock();
    if (!on.look.note(run, on.capture, reading, anyRange, at)) return;
    const ohms = reading.kind === 'value' ? Number(reading.ohms) : null;
    // A meter may look for its range for longer than readings may otherwise be apart.
    const outcome = this.#take(on, { atMilliseconds: at, ohms, ...(anyRange && { begunMilliseconds: began }) });
    if (outcome?.kind === 'captured') await this.#count(on, reading);
    else if (outcome?.kind === 'captured-open') await this.#countOpen(on, reading, anyRange);
    else this.#tell(on, { ohms: ohmsOf(reading), ...toldOf(outcome) });
    if (isMissed(outcome)) await this.#sayNext(on);
  }

  #take(on: Ongoing, reading: LiveReading): Outcome {
    const { capture, outcome } = take(on.capture, reading, on.setting);
    on.capture = capture;
    if (outcome?.kind === 'released' || capture.phase === 'armed') on.held = null;
    return outcome;
  }

  async #byTrigger(on: Ongoing): Promise<void> {
    this.#around.mustTakeReadings(on.run);
    const meter = this.#around.meterOf(on.run);
    this.#tell(on, { phase: 'waiting', ohms: null });
    const { signal } = on.interrupt;
    const reading = await this.#unlessHiccup(on, () => meter.awaitTrigger(signal));
    const at = this.#around.clock();
    if (!reading || isInterrupted(on) || at - on.triggeredAt < SAME_PRESS_MILLISECONDS) return;
    on.triggeredAt = at;
    const sure = await this.#unlessHiccup(on, () => this.#sure(on, meter, reading));
    if (isInterrupted(on)) return;
    if (sure) await this.#count(on, sure);
    else {
      this.#tell(on, { ohms: ohmsOf(reading), outcome: 'trouble', troubleWords: NOT_THE_SAME });
      await this.#sayNext(on);
    }
  }

  /** The trigger may come while a contact slips: a second reading must agree, for open leads one on any range. */
  async #sure(on: Ongoing, meter: Meter, first: Reading): Promise<Reading | null> {
    if (first.kind === 'value') return agreeing(first, await meter.glance(), on.setting);
    const second = await meter.glanceOnAnyRange();
    return second.kind === 'overload' ? second : agreeing(second, await meter.glanceOnAnyRange(), on.setting);
  }

  /** Null where the line lost a single answer. @throws {Problem} what is more than that */
  async #unlessHiccup(on: Ongoing, ask: () => Promise<Reading | null>): Promise<Reading | null> {
    try {
      const reading = await this.#around.withMeter(on.run, ask);
      on.hiccups = 0;
      return reading;
    } catch (thrown) {
      on.hiccups++;
      if (!isHiccup(thrown, on.hiccups)) throw thrown;
      this.#tell(on, { outcome: 'trouble', troubleWords: thrown.what });
      return null;
    }
  }

  /** A captured reading counts as soon as it is in the record, and is told then. */
  async #count(on: Ongoing, reading: Reading): Promise<void> {
    try {
      on.held = this.#around.record(on.run, reading);
    } catch (thrown) {
      if (!(thrown instanceof Problem) || !NOT_COUNTED.has(thrown.code)) throw thrown;
      on.capture = notCounted(on.capture);
      this.#tell(on, { ohms: ohmsOf(reading), outcome: 'trouble', troubleWords: `${thrown.what}. ${thrown.toDo}` });
      return;
    }
    this.#tell(on, { ohms: ohmsOf(reading), outcome: 'captured' });
    await this.#sayNext(on);
  }

  /** Open means that nothing conducts on any range. */
  async #countOpen(on: Ongoing, reading: Reading, anyRange: boolean): Promise<void> {
    const meter = this.#around.meterOf(on.run);
    const sure = anyRange ? reading : await this.#around.withMeter(on.run, () => meter.glanceOnAnyRange());
    if (isInterrupted(on)) return;
    if (sure.kind === 'overload') {
      await this.#count(on, sure);
      return;
    }
    on.capture = notCounted(on.capture);
    this.#tell(on, { ohms: ohmsOf(sure), outcome: 'trouble', troubleWords: CONDUCTS });
  }

  /** The hands of a simulated bench take the next piece that is asked for, and a piece again that was not counted. */
  async #sayNext(on: Ongoing): Promise<void> {
    const { hands } = this.#around.meterOf(on.run);
    if (!hands) return;
    await this.#around.withMeter(on.run, async () => {
      await this.#around.handOver(on.run);
      await hands.sayNext(pieceToPlace(this.#around.runOf(on.run)));
    });
  }

  #liveOf(on: Ongoing, change: Partial<Live>): Live {
    const { phase, steady } = on.capture;
    const standing: LivePhase = on.by === 'trigger' ? 'waiting' : phase;
    const piece = on.held ?? nextPiece(this.#around.runOf(on.run));
    return {
      capture: on.started.capture,
      run: on.run,
      by: on.by,
      phase: standing,
      steady,
      of: on.setting.settledReadings,
      ohms: null,
      piece,
      ...change,
    };
  }

  #tell(on: Ongoing, change: Partial<Live>): void {
    this.#say(this.#liveOf(on, change));
  }

  /** Outcomes and other phases are always told, the rest not too often. */
  #say(live: Live): void {
    const isNew = live.outcome !== undefined || live.phase !== this.#live?.phase || live.run !== this.#live.run;
    const now = this.#around.clock();
    // Whoever comes later is not told once more of what has happened, only how things stand.
    const { outcome: _, troubleWords: __, ...standing } = live;
    this.#live = standing;
    if (!isNew && now - this.#toldAt < TOLD_MILLISECONDS) return;
    this.#toldAt = now;
    this.#around.tell(live);
  }
}

/** Whether a capture that is on is what is asked for already. */
function isSame(on: Ongoing, run: number, by: LiveBy, choice: CaptureChoice): boolean {
  return !on.ending && on.run === run && on.by === by && isDeepStrictEqual(on.choice, choice);
}

/** Whether somebody came in or ended it: what was under way is not looked at then, it may be of the piece before. */
function isInterrupted({ asides, ending }: Ongoing): boolean {
  return asides.size > 0 || ending !== undefined;
}

/** The second of two readings that lie within the band of each other; else null. */
function agreeing(first: Reading, second: Reading, setting: CaptureSetting): Reading | null {
  if (first.kind !== 'value' || second.kind !== 'value') return null;
  const [before, ohms] = [Number(first.ohms), Number(second.ohms)];
  return Math.abs(ohms - before) <= setting.bandOhms * farFactor(ohms, setting) ? second : null;
}

function ohmsOf(reading: Reading): string | null {
  return reading.kind === 'value' ? reading.ohms : null;
}

function toldOf(outcome: Outcome): { outcome?: LiveOutcome; troubleWords?: string } {
  if (outcome === null || outcome.kind === 'captured-open') return {};
  if (outcome.kind === 'trouble') return { outcome: 'trouble', troubleWords: TROUBLE_WORDS[outcome.why] };
  return { outcome: outcome.kind };
}

/** Whether a piece was on the probes and has not counted. */
function isMissed(outcome: Outcome): boolean {
  return outcome?.kind === 'trouble' || (outcome?.kind === 'released' && !outcome.captured);
}
