import { ARMED, type Capture, type Outcome, sayOpen, type TroubleWhy, take } from '../../core/capture/capture.ts';
import type { CaptureSetting } from '../../core/capture/setting.ts';
import { areChecksDue, type ContinuityRun, nextPoint } from '../../core/continuity/continuityRun.ts';
import { mustReadPoint } from '../../core/continuity/decide.ts';
import type { ReadBy } from '../../core/continuity/event.ts';
import type { PointMeasured } from '../../core/continuity/judgePoint.ts';
import type { Point } from '../../core/continuity/point.ts';
import { KEY_DWELL_MILLISECONDS, pointCaptureSetting } from '../../core/continuity/pointCapture.ts';
import type { Stepping, SteppingPhase } from '../../core/contract/contract.ts';
import { asProblem, type Problem, problem } from '../../core/problem/problem.ts';
import { compareDecimals, subtract } from '../../core/quantity/decimal.ts';
import type { Meter, Reading } from '../../instruments/meter/meter.ts';
import { isHiccup } from './hiccups.ts';

export interface SteppingAround {
  runOf: (run: number) => ContinuityRun;
  /** @throws problem meter-missing */
  meterOf: (run: number) => Meter;
  /** Has the meter for one thing at a time. */
  withMeter: <T>(run: number, use: () => Promise<T>) => Promise<T>;
  /** Keeps a reading of a point. */
  record: (run: number, point: number, by: ReadBy, measured: PointMeasured) => void;
  tell: (stepping: Stepping) => void;
  /** Milliseconds of a clock that only goes forward. */
  clock: () => number;
}

const TOLD_MILLISECONDS = 40;
const WAITING_MILLISECONDS = 50;
/** Who has just said something else cannot have switched by then: such a press is a second one of the same key. */
const TWICE_MILLISECONDS = 300;

const TROUBLE_WORDS: Record<TroubleWhy, string> = {
  unsteady: 'The contact does not settle. Press both tips on anew, on clean places',
  'changed-without-release':
    'The reading moved away and the leads were not open for long enough: it does not count. Lift the tips',
  'lifted-too-soon': 'Contact was too brief: it does not count. Hold both tips on the points until it is taken',
  'same-again':
    'That came at once after the point before and may be it, slipped: it does not count. Lift for half a second, then touch the next',
  'open-conducts':
    'It conducts right after a point was taken as open: it does not count. Lift the tips and touch the point anew',
};

interface Ongoing {
  readonly run: number;
  readonly setting: CaptureSetting;
  capture: Capture;
  /** The point that contact and signs are of; another one begins with open leads. */
  target: number | null;
  /** How switches were last said to stand; null before anybody said it. */
  state: string | null;
  /** Since when it waits for a switch; null while it does not. */
  switchSince: number | null;
  held: number | null;
  ending: { why: Problem | null } | undefined;
  hiccups: number;
  done: Promise<void>;
}

/**
 * Goes through the points of a run hands-free: it names the next pair, waits until contact is held and settled (or two taps of the tips, or
 * a key, say that it is open), keeps the reading, and goes on when the leads were seen open, by the rules of core/capture. Where the
 * next point wants a switch to stand otherwise it waits until somebody says that it does. It ends by itself when checks of the leads
 * are due or no point is left.
 */
export class ContinuityStepping {
  readonly #around: SteppingAround;
  #on: Ongoing | null = null;
  #told: Stepping | null = null;
  #toldAt = Number.NEGATIVE_INFINITY;

  constructor(around: SteppingAround) {
    this.#around = around;
  }

  /** How it stands, or the way the last one ended; null before the first. */
  get state(): Stepping | null {
    return this.#told;
  }

  get isOn(): boolean {
    return this.#on !== null;
  }

  /** @throws problems of mustReadPoint, continuity-complete, meter-missing, reading-under-way, and those of `Meter.glance` */
  async start(number: number): Promise<void> {
    if (this.#on?.run === number && !this.#on.ending) return;
    const point = mustHavePoint(this.#around.runOf(number));
    await this.stop(null);
    const meter = this.#around.meterOf(number);
    const milliseconds = await this.#around.withMeter(number, async () => {
      await meter.hands?.lift();
      await meter.glance();
      const began = this.#around.clock();
      await meter.glance();
      return this.#around.clock() - began;
    });
    const run = this.#around.runOf(number);
    const { rangeOhms = null } = run.meter?.setting ?? {};
    const setting = pointCaptureSetting(
      run.zeroOhms ?? '0',
      milliseconds,
      rangeOhms === null ? null : Number(rangeOhms),
    );
    const on: Ongoing = {
      run: number,
      setting,
      capture: ARMED,
      target: null,
      // Nothing has to be switched for the first point of a list without switches.
      state: point.state === '' ? '' : null,
      switchSince: null,
      held: null,
      ending: undefined,
      hiccups: 0,
      done: Promise.resolve(),
    };
    this.#on = on;
    this.#tell(on, {});
    on.done = this.#go(on, point);
  }

  /** Ends it, if it is on; nothing that was under way counts. */
  async stop(why: Problem | null): Promise<void> {
    const on = this.#on;
    if (!on) return;
    on.ending ??= { why };
    await on.done;
  }

  /** The meter is gone, or somebody else has the run: it ends by itself as soon as it can. */
  endSoon(why: Problem): void {
    if (this.#on) this.#on.ending ??= { why };
  }

  /** Something was done in the run that may have changed which point is next: nothing counts before the leads were seen open. */
  disturb(run: number): void {
    if (this.#on?.run === run) Object.assign(this.#on, { capture: ARMED, target: null, held: null });
  }

  /**
   * The probes are held and nothing conducts; or, while it waits for a switch and not otherwise, that stands so.
   * @throws problem stepping-off
   */
  sayNow(run: number, state: string | null): void {
    const on = this.#on;
    if (on?.run !== run || on.ending) throw problem('stepping-off');
    if (on.switchSince !== null || state !== null) {
      const isMeant = on.switchSince !== null && this.#around.clock() - on.switchSince >= TWICE_MILLISECONDS;
      if (isMeant && state !== null) on.state = state;
      return;
    }
    const { openDwellMilliseconds } = on.setting;
    const before = on.capture;
    // Whoever presses holds the tips there by now; only whoever taps them has still to get there.
    on.capture = sayOpen(before, this.#around.clock() - openDwellMilliseconds + KEY_DWELL_MILLISECONDS);
    if (on.capture !== before) this.#tell(on, { outcome: 'open-said' });
  }

  async #go(on: Ongoing, first: Point): Promise<void> {
    let why: Problem | null = null;
    try {
      if (first.state === '') await this.#handsTo(on, first, true);
      while (!on.ending) {
        const run = this.#around.runOf(on.run);
        const point = nextPoint(run);
        if (point === null) break;
        if (areChecksDue(run))
          throw problem(
            'readiness-expired',
            'as many readings were taken as the run takes between two checks of the leads',
          );
        if (point.state !== '' && point.state !== on.state) await this.#untilSwitched(on, point);
        else await this.#step(on, point);
      }
      why = on.ending?.why ?? null;
    } catch (thrown) {
      why = on.ending?.why ?? asProblem(thrown);
    }
    await this.#restHands(on);
    this.#on = null;
    on.held = null;
    this.#toldAt = Number.NEGATIVE_INFINITY;
    this.#say({
      ...this.#standing(on),
      phase: 'off',
      ohms: null,
      closed: false,
      held: null,
      ...(why && { why: why.toJSON() }),
    });
  }

  /** Waits until somebody says that the switch stands as the point has it. */
  async #untilSwitched(on: Ongoing, point: Point): Promise<void> {
    await this.#restHands(on);
    on.held = null;
    on.switchSince = this.#around.clock();
    this.#tell(on, { phase: 'switch' });
    // The point may be skipped meanwhile.
    const isNext = () => nextPoint(this.#around.runOf(on.run))?.point === point.point;
    while (!on.ending && on.state !== point.state && isNext()) {
      await new Promise((resolve) => setTimeout(resolve, WAITING_MILLISECONDS));
    }
    on.switchSince = null;
    if (on.ending || !isNext()) return;
    on.capture = ARMED;
    await this.#handsTo(on, point, true);
  }

  async #step(on: Ongoing, point: Point): Promise<void> {
    mustReadPoint(this.#around.runOf(on.run), point.point);
    const meter = this.#around.meterOf(on.run);
    const reading = await this.#unlessHiccup(on, () => meter.glance());
    if (!reading || on.ending) return;
    if (on.target !== point.point && on.held === null) {
      // Another point than contact was of: begin anew.
      if (on.target !== null) on.capture = ARMED;
      on.target = point.point;
    }
    const ohms = reading.kind === 'value' ? Number(reading.ohms) : null;
    const { capture, outcome } = take(on.capture, { atMilliseconds: this.#around.clock(), ohms }, on.setting);
    on.capture = capture;
    if (outcome?.kind === 'released' || capture.phase === 'armed') this.#letGo(on);
    const shown = this.#shown(on, reading);
    if (outcome?.kind === 'captured')
      await this.#keep(on, point, 'contact', { ...textsOf(reading), range: 'set' }, shown);
    else if (outcome?.kind === 'captured-open') await this.#keepOpen(on, point);
    else this.#tell(on, { ...shown, ...toldOf(outcome) });
    if (isMissed(outcome)) await this.#handsTo(on, nextPoint(this.#around.runOf(on.run)), false);
  }

  #letGo(on: Ongoing): void {
    if (on.held === null) return;
    on.held = null;
    on.target = nextPoint(this.#around.runOf(on.run))?.point ?? null;
  }

  /** Open is what no range of the meter shows conducting; whatever it shows is kept. */
  async #keepOpen(on: Ongoing, point: Point): Promise<void> {
    const meter = this.#around.meterOf(on.run);
    const reading = await this.#around.withMeter(on.run, () => meter.glanceOnAnyRange());
    if (on.ending || nextPoint(this.#around.runOf(on.run))?.point !== point.point) return;
    await this.#keep(on, point, 'sign', { ...textsOf(reading), range: 'automatic' }, this.#shown(on, reading));
  }

  async #keep(on: Ongoing, point: Point, by: ReadBy, measured: PointMeasured, shown: Partial<Stepping>): Promise<void> {
    // Held before it is kept: who hears of the entry may ask how things stand.
    on.held = by === 'contact' ? point.point : null;
    on.target = by === 'contact' ? point.point : null;
    this.#around.record(on.run, point.point, by, measured);
    this.#tell(on, { ...shown, outcome: 'captured' });
    await this.#handsTo(on, nextPoint(this.#around.runOf(on.run)), false);
  }

  /** The hands of a simulated bench. @param anew they rest now, or are to begin again */
  async #handsTo(on: Ongoing, point: Point | null, anew: boolean): Promise<void> {
    const { hands } = this.#around.meterOf(on.run);
    if (!hands || !point || (!anew && point.state !== '' && point.state !== on.state)) return;
    await this.#around.withMeter(on.run, () => (anew ? hands.takePairs(point) : hands.sayNextPair(point)));
  }

  /** A meter that is gone has none. */
  async #restHands(on: Ongoing): Promise<void> {
    try {
      const { hands } = this.#around.meterOf(on.run);
      if (hands) await this.#around.withMeter(on.run, () => hands.lift());
    } catch {
      // Whoever ended it knows already what is wrong with the meter.
    }
  }

  async #unlessHiccup(on: Ongoing, ask: () => Promise<Reading>): Promise<Reading | null> {
    try {
      const reading = await this.#around.withMeter(on.run, ask);
      on.hiccups = 0;
      return reading;
    } catch (thrown) {
      on.hiccups++;
      if (!isHiccup(thrown, on.hiccups)) throw thrown;
      return null;
    }
  }

  #shown(on: Ongoing, reading: Reading): Pick<Stepping, 'ohms' | 'closed'> {
    if (reading.kind !== 'value') return { ohms: null, closed: false };
    const { zeroOhms, limits } = this.#around.runOf(on.run);
    const ohms = subtract(reading.ohms, zeroOhms ?? '0');
    return { ohms, closed: compareDecimals(ohms, limits.closedBelowOhms) < 0 };
  }

  #standing(on: Ongoing): Stepping {
    const phase: SteppingPhase = on.capture.phase;
    const point = on.held ?? nextPoint(this.#around.runOf(on.run))?.point ?? null;
    return { run: on.run, phase, point, held: on.held, ohms: null, closed: false };
  }

  #tell(on: Ongoing, change: Partial<Stepping>): void {
    this.#say({ ...this.#standing(on), ...change });
  }

  /** Outcomes, other phases and the tone are always told, the rest not too often. */
  #say(stepping: Stepping): void {
    const before = this.#told;
    const isNew =
      stepping.outcome !== undefined ||
      stepping.phase !== before?.phase ||
      stepping.closed !== before.closed ||
      stepping.point !== before.point;
    const { outcome: _, troubleWords: __, ...standing } = stepping;
    this.#told = standing;
    const now = this.#around.clock();
    if (!isNew && now - this.#toldAt < TOLD_MILLISECONDS) return;
    this.#toldAt = now;
    this.#around.tell(stepping);
  }
}

/** @throws problems continuity-complete, and those of mustReadPoint */
function mustHavePoint(run: ContinuityRun): Point {
  const point = nextPoint(run);
  if (!point) throw problem('continuity-complete');
  return mustReadPoint(run, point.point);
}

/** What the meter sent, as it is kept. */
export function textsOf({ raw, said }: Reading): Pick<PointMeasured, 'raw' | 'said'> {
  return { raw, said };
}

function toldOf(outcome: Outcome): Pick<Stepping, 'outcome' | 'troubleWords'> {
  if (outcome === null || outcome.kind === 'captured-open') return {};
  if (outcome.kind === 'trouble') return { outcome: 'trouble', troubleWords: TROUBLE_WORDS[outcome.why] };
  return { outcome: outcome.kind };
}

/** Whether something was on the probes and has not counted. */
function isMissed(outcome: Outcome): boolean {
  return outcome?.kind === 'trouble' || (outcome?.kind === 'released' && !outcome.captured);
}
