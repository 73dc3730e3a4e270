import { setTimeout as wait } from 'node:timers/promises';
import { ScpiError } from './grammar.ts';
import {
  MeterModel,
  type Place,
  type RangeSetting,
  type ResistanceFunction,
  resolution,
  USUAL_CYCLES,
  USUAL_RANGE_OHMS,
} from './meterModel.ts';
import type { BenchScenario } from './scenario.ts';
import { Status } from './status.ts';

const usualSetting = (): RangeSetting => ({ auto: true, rangeOhms: USUAL_RANGE_OHMS, cycles: USUAL_CYCLES });

/** One reading of the display, in ohms, and what its last digit is worth. */
export interface Acquired {
  ohms: number;
  stepOhms: number;
}

/**
 * The simulated bench behind its commands: settings and status of the meter, what the probes touch, the last reading.
 * It outlives connections, as a real meter does.
 */
export class Bench {
  readonly scenario: BenchScenario;
  readonly status = new Status();
  readonly #model: MeterModel;
  function: ResistanceFunction = 'RES';
  settings: Record<ResistanceFunction, RangeSetting> = { RES: usualSetting(), FRES: usualSetting() };
  placed: Place = 'OPEN';
  #acquired: Acquired | null = null;

  constructor(scenario: BenchScenario) {
    this.scenario = scenario;
    this.#model = new MeterModel(scenario);
  }

  /** *RST: the settings; status and hands stay (IEEE 488.2 10.32). */
  reset(): undefined {
    this.function = 'RES';
    this.settings = { RES: usualSetting(), FRES: usualSetting() };
    this.#acquired = null;
  }

  configure(name: ResistanceFunction, rangeOhms: number | null, cycles: number): undefined {
    this.function = name;
    this.settings[name] = { ...usualSetting(), cycles, ...(rangeOhms !== null && { rangeOhms, auto: false }) };
    this.#acquired = null;
  }

  select(name: ResistanceFunction): undefined {
    this.function = name;
    this.#acquired = null;
  }

  change(name: ResistanceFunction, change: Partial<RangeSetting>): undefined {
    Object.assign(this.settings[name], change);
    this.#acquired = null;
  }

  place(place: Place): undefined {
    this.placed = place;
  }

  autoRange(name: ResistanceFunction): number {
    return this.#model.autoRange(this.placed, name);
  }

  /** Takes a reading and keeps it for FETCh?. */
  async read(): Promise<Acquired> {
    const { scenario } = this;
    const setting = this.settings[this.function];
    if (setting.auto) setting.rangeOhms = this.autoRange(this.function);
    if (scenario.meter.pace === 'real') await wait((setting.cycles / scenario.meter.mainsHertz) * 2 * 1000);
    this.#acquired = {
      ohms: this.#model.read(this.placed, this.function, setting.rangeOhms, setting.cycles),
      stepOhms: resolution(setting.cycles) * setting.rangeOhms,
    };
    return this.#acquired;
  }

  /** The last reading again; none, or settings changed since, is -230 (SCPI-1999 volume 2, 3.2). */
  fetch(): Acquired {
    if (this.#acquired === null) throw new ScpiError(-230);
    return this.#acquired;
  }
}
