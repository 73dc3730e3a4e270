import { trueOhms } from './lot.ts';
import { normalAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';

/** What the probes touch: a piece of the lot by its number, nothing, or each other. */
export type Place = number | 'OPEN' | 'SHOR';

export type ResistanceFunction = 'RES' | 'FRES';

export interface RangeSetting {
  auto: boolean;
  rangeOhms: number;
  /** Integration time in power-line cycles, one of `INTEGRATION_CYCLES`. */
  cycles: number;
}

export const RANGES_OHMS = [1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8];
export const LARGEST_RANGE_OHMS = 1e8;
export const INTEGRATION_CYCLES = [0.02, 0.2, 1, 10, 100];
export const USUAL_CYCLES = 10;
export const USUAL_RANGE_OHMS = 1e3;

/** Overload shows as infinity (SCPI-1999 volume 1, 7.2.1.4). */
export const OVERLOAD = 9.9e37;
const OVER_RANGE = 1.2;
const NOISE_KEY = 3;

/** The smallest range of at least so many ohms; null if there is none. */
export function rangeFor(ohms: number): number | null {
  return RANGES_OHMS.find((range) => range >= ohms) ?? null;
}

/** The shortest integration time of at least so many cycles; null if there is none. */
export function cyclesFor(cycles: number): number | null {
  return INTEGRATION_CYCLES.find((known) => known >= cycles) ?? null;
}

/** What one step of the display is worth, as a fraction of the range: four and a half to seven and a half digits. */
export function resolution(cycles: number): number {
  return cycles >= 10 ? 1e-7 : cycles >= 0.2 ? 1e-6 : 1e-5;
}

/** The meter's input: what it displays for what the probes touch. */
export class MeterModel {
  readonly #scenario: BenchScenario;
  readonly #readings = new Map<Place, number>();

  constructor(scenario: BenchScenario) {
    this.#scenario = scenario;
  }

  /** Resistance between the meter's terminals in ohms; null for an open circuit. */
  #terminalOhms(place: Place, meterFunction: ResistanceFunction): number | null {
    if (place === 'OPEN') return null;
    const between = place === 'SHOR' ? 0 : trueOhms(this.#scenario, place);
    if (between === null) return null;
    return meterFunction === 'RES' ? between + this.#scenario.leadOhms : between;
  }

  /** The range auto-ranging ends at. */
  autoRange(place: Place, meterFunction: ResistanceFunction): number {
    const ohms = this.#terminalOhms(place, meterFunction);
    if (ohms === null) return LARGEST_RANGE_OHMS;
    return RANGES_OHMS.find((range) => ohms <= range * OVER_RANGE) ?? LARGEST_RANGE_OHMS;
  }

  /**
   * Takes one reading in ohms, `OVERLOAD` above 1.2 times the range. Its noise falls with the square root of the
   * integration time and depends only on seed, piece and how many readings of that piece there were before, so the
   * same seed gives the same readings over any line.
   */
  read(place: Place, meterFunction: ResistanceFunction, range: number, cycles: number): number {
    const ohms = this.#terminalOhms(place, meterFunction);
    if (ohms === null) return OVERLOAD;
    const earlier = this.#readings.get(place) ?? 0;
    this.#readings.set(place, earlier + 1);
    if (ohms > range * OVER_RANGE) return OVERLOAD;
    const { seed, meter } = this.#scenario;
    const deviation = normalAt(seed, NOISE_KEY, place === 'SHOR' ? 0 : Number(place), earlier);
    const noise = (deviation * meter.noisePpmOfRange * 1e-6 * range) / Math.sqrt(cycles);
    const step = resolution(cycles) * range;
    return Math.round((ohms + noise) / step) * step;
  }
}
