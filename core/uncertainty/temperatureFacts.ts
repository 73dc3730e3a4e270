import * as z from 'zod';
import { decimalText } from '../quantity/decimal.ts';

const notNegative = decimalText.refine((text) => !text.startsWith('-'), 'must not be negative');

/**
 * What is known of how a part moves with temperature, in ppm for each kelvin. `known` corrects readings and says how well it
 * is known; `limit` only widens their uncertainty; `unknown` leaves temperature out, and says so.
 */
export const temperatureCoefficient = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('unknown') }),
  z.object({ kind: z.literal('known'), ppmPerKelvin: decimalText, uncertaintyPpmPerKelvin: notNegative }),
  z.object({ kind: z.literal('limit'), ppmPerKelvin: notNegative }),
]);

/** The temperatures at which values are given: 20 °C (IEC 60115-1) and 25 °C (MIL-STD-202, method 304; many data sheets). */
export const REFERENCE_CELSIUS = ['20', '25'] as const;

export const temperatureFacts = z.object({
  referenceCelsius: z.enum(REFERENCE_CELSIUS).default('20'),
  coefficient: temperatureCoefficient.default({ kind: 'unknown' }),
  /** The ambient temperature is known within ± so many kelvins. */
  thermometerKelvins: notNegative.default('1'),
});

export type TemperatureFacts = z.output<typeof temperatureFacts>;
export type TemperatureCoefficient = z.output<typeof temperatureCoefficient>;
