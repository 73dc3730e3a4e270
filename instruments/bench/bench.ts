import { setTimeout as wait } from 'node:timers/promises';
import { BENCH_MAKER, BENCH_MODEL } from '../../core/inspection/simulatedBench.ts';
import type { Acquired } from './acquired.ts';
import { type Conditions, conditionsOf } from './conditions.ts';
import {
  displayStep,
  FUNCTION_NAMES,
  FUNCTIONS,
  type FunctionName,
  type RangeSetting,
  usualSetting,
} from './functions.ts';
import { ScpiError } from './grammar.ts';
import type { Manner } from './manner.ts';
import { manners } from './manners.ts';
import { MeterModel } from './meterModel.ts';
import type { Place } from './place.ts';
import type { BenchScenario } from './scenario.ts';
import { Status } from './status.ts';
import type { StressName } from './stress.ts';

const BENCH_VERSION = '1.0';

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
  placed: Place = 'OPEN';
  /** Under remote control. */
  remote = false;
  #acquired: Acquired | null = null;
  #count = 0;

  constructor(scenario: BenchScenario) {
    this.scenario = scenario;
    this.manner = manners[scenario.meter.manner];
    this.conditions = conditionsOf(scenario);
    const has = scenario.meter.functions.map((name): FunctionName => FUNCTION_NAMES[name]);
    this.#functions = new Set(has.filter((name) => this.manner.functions.includes(name)));
    this.#model = new MeterModel(scenario, this.conditions);
    this.settings = this.#usualSettings();
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

  place(place: Place): undefined {
    this.placed = place;
    this.#model.touch(place);
  }

  /** The same pieces after a treatment, or as they were before it. */
  treat(stress: StressName | null): undefined {
    this.conditions.stress = stress;
  }

  autoRange(name: FunctionName): number {
    return this.#model.autoRange(this.placed, name);
  }

  /** Takes a reading and keeps it for FETCh?. */
  async read(): Promise<Acquired> {
    const name = this.function;
    const setting = this.settings[name];
    if (setting.auto) setting.range = this.autoRange(name);
    const { range, cycles } = setting;
    const { pace, mainsHertz } = this.scenario.meter;
    if (pace === 'real') {
      const settling = this.#model.settlingMilliseconds(this.placed, name, range, cycles);
      await wait((cycles / mainsHertz) * 2 * 1000 + settling);
    }
    this.#count++;
    this.#acquired = {
      function: name,
      value: this.#model.read(this.placed, name, range, cycles),
      step: displayStep(name, range, cycles),
      count: this.#count,
    };
    return this.#acquired;
  }

  /** The last reading again; none, or settings changed since, is -230 (SCPI-1999 volume 2, 3.2). */
  fetch(): Acquired {
    if (this.#acquired === null) throw new ScpiError(-230);
    return this.#acquired;
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
