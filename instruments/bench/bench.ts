import { BENCH_MAKER, BENCH_MODEL } from '../../core/inspection/simulatedBench.ts';
import type { PracticeAct } from '../../core/practice/practiceAct.ts';
import type { Acquired } from './acquired.ts';
import { BENCH_ACTS } from './benchActs.ts';
import { type Clock, clockOfItsOwn, realClock } from './clock.ts';
import { type Conditions, conditionsOf } from './conditions.ts';
import { lastPlaceIn, placeAt } from './contact.ts';
import {
  displayStep,
  FUNCTION_NAMES,
  FUNCTIONS,
  type FunctionName,
  type RangeSetting,
  usualSetting,
} from './functions.ts';
import { ScpiError } from './grammar.ts';
import { HandsInTime, type PairToTouch } from './handsInTime.ts';
import type { Manner } from './manner.ts';
import { manners } from './manners.ts';
import { MeterModel, OVERLOAD } from './meterModel.ts';
import type { Place } from './place.ts';
import type { BenchScenario } from './scenario.ts';
import { Status } from './status.ts';
import type { StressName } from './stress.ts';
import { Trigger } from './trigger.ts';

const BENCH_VERSION = '1.0';
/** How often the hands look whether it is time to press the meter's trigger. */
const PRESS_LOOK_MILLISECONDS = 10;

/**
 * The simulated bench behind its commands: settings and status of the meter, what the probes touch, the last reading.
 * It outlives connections, as a real meter does.
 */
export class Bench {
  readonly scenario: BenchScenario;
  readonly manner: Manner;
  readonly status = new Status();
  /** How the bench is just now; may be changed at any time. */
  readonly conditions: Conditions;
  readonly #functions: ReadonlySet<FunctionName>;
  readonly #model: MeterModel;
  function: FunctionName = 'RES';
  settings: Record<FunctionName, RangeSetting>;
  readonly clock: Clock;
  /** Hands that go on by themselves; while they rest the probes stay where they were put. */
  readonly hands: HandsInTime;
  readonly trigger = new Trigger();
  /** What somebody did last beside putting the probes on pieces. */
  acted: PracticeAct | null = null;
  /** Under remote control. */
  remote = false;
  #acquired: Acquired | null = null;
  #count = 0;
  #put: Place = 'OPEN';
  /** What the hands touched last, so that each contact of theirs is another. */
  #touched: Place = 'OPEN';
  #isPressing = false;

  constructor(scenario: BenchScenario) {
    this.scenario = scenario;
    this.manner = manners[scenario.meter.manner];
    this.conditions = conditionsOf(scenario);
    const has = scenario.meter.functions.map((name): FunctionName => FUNCTION_NAMES[name]);
    this.#functions = new Set(has.filter((name) => this.manner.functions.includes(name)));
    this.#model = new MeterModel(scenario, this.conditions);
    this.settings = this.#usualSettings();
    this.clock = scenario.meter.pace === 'real' ? realClock : clockOfItsOwn();
    this.hands = new HandsInTime(scenario.seed, scenario.hands.shareSlips, () => ({
      readingMilliseconds: this.#readingMilliseconds,
      settlingMilliseconds: (place) => this.#settlingMilliseconds(place),
      pressing: this.trigger.source === 'EXT',
    }));
  }

  /** Who the meter says it is, where it can (IEEE 488.2 10.14). */
  get identity(): string {
    return [BENCH_MAKER, BENCH_MODEL, this.scenario.seed, BENCH_VERSION].join(',');
  }

  /** Whether the meter has this function. */
  measures(name: FunctionName): boolean {
    return this.#functions.has(name);
  }

  /** *RST: the settings; status and hands stay (IEEE 488.2 10.32). */
  reset(): undefined {
    this.function = 'RES';
    this.settings = this.#usualSettings();
    this.#acquired = null;
    this.trigger.reset();
  }

  /** Power off and on: settings gone, status as at power-on. What lies on the bench stays as it is. */
  restart(): undefined {
    this.reset();
    this.remote = false;
    this.#count = 0;
    this.status.powerOn();
  }

  control(remote: boolean): undefined {
    this.remote = remote;
  }

  /** @param range null for automatic; @param cycles null for the usual integration time */
  configure(name: FunctionName, range: number | null, cycles: number | null): undefined {
    this.select(name);
    // A meter that was told to measure something else begins at once (common practice).
    this.trigger.source = 'IMM';
    const usual = this.#usualSetting(name);
    this.settings[name] = {
      ...usual,
      ...(range !== null && { range, auto: false }),
      ...(cycles !== null && { cycles }),
    };
  }

  /** @throws {ScpiError} -224 for a function the meter lacks */
  select(name: FunctionName): undefined {
    if (!this.measures(name)) throw new ScpiError(-224, name);
    this.function = name;
    this.#acquired = null;
  }

  change(name: FunctionName, change: Partial<RangeSetting>): undefined {
    Object.assign(this.settings[name], change);
    this.#acquired = null;
  }

  /** Where the probes are now. */
  get placed(): Place {
    if (this.hands.work === 'rest') return this.#put;
    const now = this.clock.now();
    // Up to and with this moment: a touch that begins now is one.
    return placeAt(this.hands.touchesIn({ from: now, until: now + Number.EPSILON * (now + 1) }), now);
  }

  /** Puts the probes there and leaves them. */
  place(place: Place): undefined {
    this.hands.rest();
    this.#put = place;
    this.#model.touch(place);
  }

  /** From now on the hands put piece after piece on the probes. */
  takePieces(first: number, piecesPerSecond: number): undefined {
    this.hands.takePieces(first, piecesPerSecond, this.clock.now());
  }

  /** From now on the hands touch pairs of terminals as they are told. */
  takePairs(first: PairToTouch): undefined {
    this.hands.takePairs(first, this.scenario.hands.piecesPerSecond, this.clock.now());
  }

  /** From now on the hands tap the tips against each other. */
  tap(): undefined {
    this.hands.tap(this.clock.now());
  }

  rest(): undefined {
    this.place('OPEN');
  }

  /** The same pieces after a treatment, or as they were before it. */
  treat(stress: StressName | null): undefined {
    this.conditions.stress = stress;
  }

  /** Something that somebody does at the bench beside putting the probes on pieces. */
  act(act: PracticeAct): undefined {
    Object.assign(this.conditions, BENCH_ACTS[act].conditions);
    // One's own leads are those that the bench began with.
    if (act === 'change the leads') this.conditions.leadOhms = this.scenario.leadOhms;
    this.acted = act;
  }

  autoRange(name: FunctionName): number {
    return this.#model.autoRange(this.placed, name);
  }

  /** Takes a reading and keeps it for FETCh?. */
  async read(): Promise<Acquired> {
    const name = this.function;
    const setting = this.settings[name];
    if (setting.auto) setting.range = this.autoRange(name);
    const moves = this.hands.work !== 'rest' && FUNCTIONS[name].unit === 'OHM';
    const value = moves ? await this.#readMoving(name, setting) : await this.#readStill(name, setting);
    this.#count++;
    const step = displayStep(name, setting.range, setting.cycles);
    this.#acquired = { function: name, value, step, count: this.#count };
    return this.#acquired;
  }

  /** READ?: a reading that begins when the trigger lets it. */
  async acquire(): Promise<Acquired> {
    if (this.trigger.source === 'IMM') return this.read();
    this.initiate();
    return this.fetch();
  }

  /** INITiate with a trigger to be waited for: returns at once. */
  initiate(): void {
    this.trigger.wait();
    if (this.hands.work === 'pieces' && !this.#isPressing) void this.#pressWhenHeld();
  }

  /** Somebody presses the trigger; where no reading waits for it nothing happens. */
  async press(): Promise<void> {
    if (!this.trigger.isWaiting) return;
    await this.read();
    this.trigger.end();
  }

  /** The last reading again; none, or settings changed since, is -230 (SCPI-1999 volume 2, 3.2). */
  async fetch(): Promise<Acquired> {
    await this.trigger.ended();
    if (this.#acquired === null) throw new ScpiError(-230);
    return this.#acquired;
  }

  /** The probes stay where they are: the meter waits until the input has settled. */
  async #readStill(name: FunctionName, { range, cycles }: RangeSetting): Promise<number> {
    if (this.scenario.meter.pace === 'real') {
      const settling = this.#model.settlingMilliseconds(this.placed, name, range, cycles);
      await this.clock.wait(this.#readingMilliseconds + settling);
    }
    return this.#model.read(this.placed, name, range, cycles);
  }

  /** The probes move: the meter shows what it makes of its input while it integrates, the first half of each reading. */
  async #readMoving(name: FunctionName, { range, cycles }: RangeSetting): Promise<number> {
    const from = this.clock.now();
    const milliseconds = this.#readingMilliseconds;
    await this.clock.wait(milliseconds);
    const window = { from, until: from + milliseconds / 2 };
    const touches = this.hands.touchesIn(window);
    const place = lastPlaceIn(window, touches) ?? 'OPEN';
    if (place !== 'OPEN' && place !== this.#touched) this.#model.touch(place);
    this.#touched = place;
    const value = this.#model.readOver(window, touches, place, name, range, cycles);
    this.hands.see(value !== OVERLOAD);
    return value;
  }

  async #pressWhenHeld(): Promise<void> {
    this.#isPressing = true;
    while (this.trigger.isWaiting && this.hands.work === 'pieces') {
      await this.clock.wait(PRESS_LOOK_MILLISECONDS);
      if (this.hands.presses(this.clock.now())) await this.press();
    }
    this.#isPressing = false;
  }

  /** Integration and, as long again, the meter's own zero. */
  get #readingMilliseconds(): number {
    return (this.settings[this.function].cycles / this.scenario.meter.mainsHertz) * 2 * 1000;
  }

  #settlingMilliseconds(place: Place): number {
    const { range, cycles } = this.settings[this.function];
    return this.#model.settlingMilliseconds(place, this.function, range, cycles);
  }

  #usualSetting(name: FunctionName): RangeSetting {
    const { usualCycles } = this.manner;
    return { ...usualSetting(name), ...(usualCycles !== null && { cycles: usualCycles }) };
  }

  #usualSettings(): Record<FunctionName, RangeSetting> {
    const names = Object.keys(FUNCTIONS) as FunctionName[];
    return Object.fromEntries(names.map((name) => [name, this.#usualSetting(name)])) as Record<
      FunctionName,
      RangeSetting
    >;
  }
}
