import { normalAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';
import { testPower } from './testCurrent.ts';

const TCR_KEY = 9;
const PPM = 1e-6;
/** The temperature at which a lot has the values its scenario says (IEC 60115-1: 20 °C). */
const LOT_CELSIUS = 20;

/** Temperature coefficient of piece n of the lot, in ppm per kelvin. */
export function tcrOf({ seed, lot }: BenchScenario, piece: number): number {
  return lot.tcrPpmPerKelvin + lot.tcrSpreadPpmPerKelvin * normalAt(seed, TCR_KEY, piece);
}

/** R = R₀ (1 + α (T − T₀)): the value at so many kelvins above the temperature where it is R₀. Never below 0. */
export function ohmsWarmer(ohms: number, tcrPpmPerKelvin: number, kelvins: number): number {
  return Math.max(0, ohms * (1 + tcrPpmPerKelvin * PPM * kelvins));
}

/**
 * Resistance of piece n while the meter reads it, in ohms: at the temperature of the air, and warmer by what the test
 * current makes of heat in it (power times thermal resistance). The warmth is there at once and goes at once.
 * @param ohmsAt20 its value at 20 °C
 */
export function ohmsWhileRead(
  scenario: BenchScenario,
  piece: number,
  ohmsAt20: number,
  ambientCelsius: number,
  rangeOhms: number,
): number {
  const tcr = tcrOf(scenario, piece);
  const kelvins = ambientCelsius - LOT_CELSIUS;
  const power = testPower(ohmsWarmer(ohmsAt20, tcr, kelvins), rangeOhms);
  return ohmsWarmer(ohmsAt20, tcr, kelvins + power * scenario.lot.kelvinsPerWatt);
}
