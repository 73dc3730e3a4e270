import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { DIVISORS, type Input } from './budget.ts';
import type { TemperatureFacts } from './temperatureFacts.ts';

const PER_MILLION = '0.000001';
const MILLION = 1_000_000;
/** Big's number for rounding a half to the even neighbour. */
const HALF_EVEN = 2;
const TCR_DECIMALS = 6;

/**
 * What must be added to a reading to bring it to the reference temperature, in ohms, where the temperature coefficient is
 * known: R_ref = R / (1 + α·(T - T_ref)), after the definition of the coefficient in IEC 60115-1. Worked out in exact decimals
 * and rounded, a half to the even neighbour, to one decimal more than the last digit of the reading. '0' where the coefficient
 * is not known, or is but a limit.
 * @param ohms the reading less the zero
 * @param resolutionOhms what its last digit is worth; 0 where that is not known: then by the decimals of `ohms`
 * @throws problem temperature-impossible where the coefficient would have the part at or below 0 Ω
 */
export function correctionOhms(
  ohms: DecimalText,
  ambientCelsius: DecimalText,
  facts: TemperatureFacts,
  resolutionOhms: DecimalText,
): DecimalText {
  const { coefficient, referenceCelsius } = facts;
  if (coefficient.kind !== 'known') return '0';
  const change = changeAt(ambientCelsius, referenceCelsius, coefficient.ppmPerKelvin);
  const factor = change.plus(1);
  if (factor.lte(0)) throw problem('temperature-impossible', coefficient.ppmPerKelvin, ambientCelsius);
  const Rounding = roundingTo(decimalsOf(ohms, resolutionOhms) + 1);
  return new Rounding(new Big(ohms).times(change).neg()).div(factor).toFixed();
}

/** α·(T - T_ref). */
const changeAt = rememberLast((ambientCelsius: DecimalText, referenceCelsius: DecimalText, ppmPerKelvin: DecimalText) =>
  new Big(ambientCelsius).minus(referenceCelsius).times(ppmPerKelvin).times(PER_MILLION),
);

/** A constructor of decimals that divide to so many decimals, a half to the even neighbour. */
const roundingTo = rememberLast((decimals: number) => {
  const Rounding = Big();
  Rounding.DP = decimals;
  Rounding.RM = HALF_EVEN;
  return Rounding;
});

function decimalsOf(ohms: DecimalText, resolutionOhms: DecimalText): number {
  const resolution = new Big(resolutionOhms);
  return resolution.eq(0) ? (ohms.split('.')[1]?.length ?? 0) : Math.max(0, -resolution.e);
}

/** What temperature contributes to the uncertainty of a reading. */
export interface TemperaturePart {
  inputs: Input[];
  /** Ohms at the reference temperature for each ohm read: 1 where nothing is corrected. */
  toReference: number;
  notes: string[];
}

/** Why the part of temperature cannot be given, in words. */
export interface TemperatureUnknown {
  unknown: string;
}

/**
 * The contributions of temperature to the uncertainty of a reading.
 * A known coefficient, corrected for: its own uncertainty over R·√(ΔT² + u²(T)), and the uncertainty of the thermometer over
 * R·α. A limit, not corrected for: a coefficient of 0 within ± the limit, over the same. The u²(T) under the root is the term of
 * higher order (JCGM 100:2008, 5.1.2, note), all there is when the room is at the reference temperature.
 * What was entered as ± is a half-width (4.3.7), the wider reading of it.
 * @param ohms the reading less the zero, before it is corrected
 * @param ambientCelsius null where it is not known
 */
export function temperaturePart(
  ohms: DecimalText,
  ambientCelsius: DecimalText | null,
  facts: TemperatureFacts,
): TemperaturePart | TemperatureUnknown {
  const { coefficient, referenceCelsius, thermometerKelvins } = facts;
  if (coefficient.kind === 'unknown') return leftAsRead(referenceCelsius);
  if (ambientCelsius === null) return { unknown: 'the ambient temperature is not known' };
  const reading = Math.abs(Number(ohms));
  const kelvins = Number(ambientCelsius) - Number(referenceCelsius);
  const thermometer = Number(thermometerKelvins) / DIVISORS.rectangular;
  const reach = Math.hypot(kelvins, thermometer);
  const notes = ['The piece is taken to have the temperature of the room: give it time, and do not warm it by hand.'];

  if (coefficient.kind === 'limit') {
    const limit = {
      name: `temperature coefficient, ${ambientCelsius} °C instead of ${referenceCelsius} °C`,
      source: 'limit of the coefficient as entered; IEC 60115-1; JCGM 100, 4.3.7 and 5.1.2 note',
      estimate: '0 ppm/K',
      ...coefficientWithin(coefficient.ppmPerKelvin),
      sensitivity: (reading * reach) / MILLION,
    };
    return { inputs: [limit], toReference: 1, notes };
  }

  const alpha = Number(coefficient.ppmPerKelvin) / MILLION;
  const factor = 1 + alpha * kelvins;
  if (factor <= 0) {
    return { unknown: `with ${coefficient.ppmPerKelvin} ppm/K no part would be left at ${ambientCelsius} °C` };
  }
  const toReference = 1 / factor;
  // Of R / (1 + α·ΔT), to α and to T.
  const slope = reading * toReference * toReference;
  const inputs: Input[] = [
    {
      name: `temperature coefficient, corrected from ${ambientCelsius} °C to ${referenceCelsius} °C`,
      source: 'uncertainty of the coefficient as entered; JCGM 100, 4.3.7 and 5.1.2 note',
      estimate: `${coefficient.ppmPerKelvin} ppm/K`,
      ...coefficientWithin(coefficient.uncertaintyPpmPerKelvin),
      sensitivity: (slope * reach) / MILLION,
    },
    {
      name: 'ambient temperature',
      source: 'thermometer as entered; JCGM 100, 4.3.7',
      estimate: `${ambientCelsius} °C`,
      given: `±${thermometerKelvins} K`,
      distribution: 'rectangular',
      divisor: DIVISORS.rectangular,
      standardUncertainty: thermometer,
      unit: 'K',
      sensitivity: -slope * alpha,
      degreesOfFreedom: null,
    },
  ];
  return { inputs, toReference, notes };
}

const leftAsRead = rememberLast(
  (referenceCelsius: DecimalText): TemperaturePart => ({
    inputs: [],
    toReference: 1,
    notes: [
      `How the part moves with temperature is not known: the value is that at the temperature of the room, and not brought to ${referenceCelsius} °C.`,
    ],
  }),
);

function coefficientWithin(ppmPerKelvin: DecimalText) {
  return {
    given: `±${ppmPerKelvin} ppm/K`,
    distribution: 'rectangular' as const,
    divisor: DIVISORS.rectangular,
    standardUncertainty: Number(ppmPerKelvin) / DIVISORS.rectangular,
    unit: 'ppm/K',
    degreesOfFreedom: null,
  };
}

/**
 * The temperature coefficient between two temperatures, (R2 - R1) / (R1·(T2 - T1)), in ppm for each kelvin (IEC 60115-1),
 * rounded to six decimals.
 * @throws problem coefficient-needs-change where the temperatures are the same or the first value is not above 0 Ω
 */
export function tcrFrom(
  firstOhms: DecimalText,
  firstCelsius: DecimalText,
  secondOhms: DecimalText,
  secondCelsius: DecimalText,
): DecimalText {
  const first = new Big(firstOhms);
  const kelvins = new Big(secondCelsius).minus(firstCelsius);
  if (kelvins.eq(0) || first.lte(0)) throw problem('coefficient-needs-change');
  const Rounding = roundingTo(TCR_DECIMALS);
  return plain(new Rounding(new Big(secondOhms).minus(first).times(MILLION)).div(first.times(kelvins)));
}
