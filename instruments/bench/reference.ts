import { normalAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';
import { scpiNumber } from './scpiNumber.ts';
import { ohmsWarmer } from './temperature.ts';

const REFERENCE_KEY = 5;
const PPM = 1e-6;
/** The temperature at which the reference was calibrated, a usual one in laboratories (common practice). */
const CALIBRATED_CELSIUS = 23;

export interface BenchReference {
  /** What is written on it. */
  nominalOhms: number;
  /** Expanded uncertainty of that (k = 2). */
  uncertaintyOhms: number;
  /** At 23 °C; never further from the nominal value than the uncertainty. */
  trueOhms: number;
}

/** The reference resistor on the bench. */
export function referenceOf({ seed, lot, referenceOhms, referenceUncertaintyPpm }: BenchScenario): BenchReference {
  const nominalOhms = referenceOhms ?? referenceNear(lot.nominalOhms);
  const uncertaintyOhms = nominalOhms * referenceUncertaintyPpm * PPM;
  const off = Math.max(-1, Math.min(1, normalAt(seed, REFERENCE_KEY) / 2));
  return { nominalOhms, uncertaintyOhms, trueOhms: nominalOhms + off * uncertaintyOhms };
}

/** True resistance of the reference in air of this temperature, in ohms. It is large enough to stay as cool as the air. */
export function referenceOhmsAt(scenario: BenchScenario, ambientCelsius: number): number {
  const { trueOhms } = referenceOf(scenario);
  return ohmsWarmer(trueOhms, scenario.referenceTcrPpmPerKelvin, ambientCelsius - CALIBRATED_CELSIUS);
}

/** What is written on it: value and uncertainty in ohms. */
export function referenceText({ nominalOhms, uncertaintyOhms }: BenchReference): string {
  return `${scpiNumber(nominalOhms)},${scpiNumber(uncertaintyOhms)}`;
}

/**
 * The reference value that suits a lot, in ohms: the nearest, by ratio, of 1, 2 and 5 times the powers of ten from 1 Ω
 * to 100 MΩ. It is then read on the same range as the lot, or so nearly that the meter's accuracy is the same.
 */
export function referenceNear(ohms: number): number {
  const values = Array.from({ length: 9 }, (_, power) => [1, 2, 5].map((digit) => digit * 10 ** power))
    .flat()
    .filter((value) => value <= 1e8);
  const distance = (value: number) => Math.abs(Math.log(value / ohms));
  return values.reduce((best, value) => (distance(value) < distance(best) ? value : best));
}
