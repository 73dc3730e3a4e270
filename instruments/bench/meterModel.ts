import { type Conditions, conditionsOf } from './conditions.ts';
import { meanOver, STRAY_FARADS, type Touch, type Window } from './contact.ts';
import { displayStep, FUNCTIONS, type FunctionName, largestRange, OVER_RANGE } from './functions.ts';
import { placementOhms, seenThroughLeads } from './leads.ts';
import { isInFixture, type NAMED_PLACES, ohmsBetweenTips, type Place } from './place.ts';
import { normalAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';
import { testCurrent } from './testCurrent.ts';

/** Overload shows as infinity (SCPI-1999 volume 1, 7.2.1.4). */
export const OVERLOAD = 9.9e37;
const PPM = 1e-6;
/** Standard deviation of the meter's thermometer. */
const NOISE_CELSIUS = 0.01;

/** Pieces count from 1; the named places take the numbers below. */
type NamedPlace = (typeof NAMED_PLACES)[number];
const NAMED_PLACE_KEYS: Record<NamedPlace, number> = { SHOR: 0, REF: -1, FIXT: -2, OPEN: -3 };

const RESISTANCE_NOISE = 3;
const VOLTAGE_NOISE = 6;
const TEMPERATURE_NOISE = 7;

/** The meter's input: what it displays for what the probes touch. */
export class MeterModel {
  readonly #scenario: BenchScenario;
  readonly #conditions: Conditions;
  /** How many readings there were, by kind of noise and place. */
  readonly #earlier = new Map<string, number>();
  /** How often the probes were put on each place. */
  readonly #placements = new Map<Place, number>();
  #placementOhms = 0;
  /** How often the probes were put on a piece. */
  #pieces = 0;
  #turn = 0;

  /** @param conditions may change from outside while the meter is in use */
  constructor(scenario: BenchScenario, conditions: Conditions = conditionsOf(scenario)) {
    this.#scenario = scenario;
    this.#conditions = conditions;
  }

  /**
   * The probes are put on a place: each time the contacts are a little different. How they are depends only on seed, place
   * and how often the probes were put there before.
   */
  touch(place: Place): void {
    const { seed, later } = this.#scenario;
    const { contactSpreadOhms } = this.#conditions;
    for (const { afterPieces, ...change } of later) {
      if (typeof place === 'number' && afterPieces === this.#pieces) Object.assign(this.#conditions, change);
    }
    if (typeof place === 'number') this.#pieces++;
    const earlier = this.#placements.get(place) ?? 0;
    this.#placements.set(place, earlier + 1);
    this.#placementOhms = placementOhms(contactSpreadOhms, seed, keyOf(place), earlier);
  }

  /** The range auto-ranging ends at. */
  autoRange(place: Place, name: FunctionName): number {
    const fits = (range: number) => {
      const input = this.#input(place, name, range);
      return input !== null && Math.abs(input) <= range * OVER_RANGE;
    };
    return FUNCTIONS[name].ranges.find(fits) ?? largestRange(name);
  }

  /**
   * How long the input takes to come within one step of the display after the test current is switched on, in
   * milliseconds: the time constant of what is measured with the stray capacitance, times the logarithm of the steps.
   */
  settlingMilliseconds(place: Place, name: FunctionName, range: number, cycles: number): number {
    if (FUNCTIONS[name].unit !== 'OHM') return 0;
    const ohms = this.#ohms(place, name, range) ?? 0;
    const charged = Math.min(ohms, range * OVER_RANGE) * STRAY_FARADS * 1000;
    return charged * Math.log(range / displayStep(name, range, cycles));
  }

  /**
   * Takes one reading in the unit of the function, `OVERLOAD` above 1.2 times the range. Its noise falls with the
   * square root of the integration time and depends only on seed, piece and how many readings of that piece there were
   * before, so the same seed gives the same readings over any line.
   */
  read(place: Place, name: FunctionName, range: number, cycles: number): number {
    return this.#display(this.#input(place, name, range), place, name, range, cycles);
  }

  /**
   * As `read`, of resistance, while contact comes and goes: what an integrating meter makes of a window of time.
   * @param place what was touched last in it, whose noise is taken
   */
  readOver(
    window: Window,
    touches: readonly Touch[],
    place: Place,
    name: FunctionName,
    range: number,
    cycles: number,
  ): number {
    const mean = meanOver(window, touches, (touched) => this.#input(touched, name, range), range);
    return this.#display(mean, place, name, range, cycles);
  }

  #display(input: number | null, place: Place, name: FunctionName, range: number, cycles: number): number {
    this.#turn++;
    this.#conditions.gainErrorPpm += this.#conditions.driftPpmPerReading;
    if (input === null) return OVERLOAD;
    const deviation = this.#deviation(place, name);
    if (Math.abs(input) > range * OVER_RANGE) return OVERLOAD;
    const { noisePpmOfRange } = this.#scenario.meter;
    const noise =
      name === 'TEMP' ? deviation * NOISE_CELSIUS : (deviation * noisePpmOfRange * PPM * range) / Math.sqrt(cycles);
    const step = displayStep(name, range, cycles);
    return Math.round((input + noise) / step) * step;
  }

  /** What would be displayed with a perfect display; null where no test current flows. */
  #input(place: Place, name: FunctionName, range: number): number | null {
    const { ambientCelsius, gainErrorPpm } = this.#conditions;
    if (name === 'TEMP') return ambientCelsius;
    const gain = 1 + gainErrorPpm * PPM;
    if (name === 'VOLT') return this.#volts(place) * gain;
    const ohms = this.#ohms(place, name, range);
    // The meter divides the voltage at its terminals by the current it sends: a voltage that is there already counts
    // as resistance (Ohm's law).
    return ohms === null ? null : (ohms + this.#volts(place) / testCurrent(range)) * gain;
  }

  #ohms(place: Place, name: FunctionName, range: number): number | null {
    const { seed } = this.#scenario;
    const { leads: state, senseOpen, leadOhms } = this.#conditions;
    const earlier = (this.#placements.get(place) ?? 1) - 1;
    const between = ohmsBetweenTips(this.#scenario, place, this.#conditions, range, earlier);
    const ohms = Math.max(0, leadOhms + this.#placementOhms);
    return seenThroughLeads(between, name === 'FRES' ? 4 : 2, { state, senseOpen, ohms }, seed, this.#turn);
  }

  /** Broken leads bring no voltage to the meter, and leads that touch each other none either. */
  #volts(place: Place): number {
    const { leads, fixtureVolts } = this.#conditions;
    return isInFixture(place) && leads !== 'broken' && leads !== 'shorted' ? fixtureVolts : 0;
  }

  #deviation(place: Place, name: FunctionName): number {
    const key = name === 'TEMP' ? TEMPERATURE_NOISE : name === 'VOLT' ? VOLTAGE_NOISE : RESISTANCE_NOISE;
    const count = `${key} ${place}`;
    const earlier = this.#earlier.get(count) ?? 0;
    this.#earlier.set(count, earlier + 1);
    return normalAt(this.#scenario.seed, key, keyOf(place), earlier);
  }
}

function keyOf(place: Place): number {
  if (typeof place === 'number') return place;
  return Object.hasOwn(NAMED_PLACE_KEYS, place) ? NAMED_PLACE_KEYS[place as NamedPlace] : pairKey(place);
}

/** Another number for each pair of terminals, below those of the named places. */
function pairKey(place: string): number {
  let key = 7;
  for (const character of place) key = (key * 31 + (character.codePointAt(0) ?? 0)) % 1_000_000_007;
  return -10 - key;
}
