import { decadeAbove, type StreamMeter } from './circuit.ts';

/** A kind of job: parts, meter, hands. All of it is invented. */
export interface Kind {
  name: string;
  pieces: number;
  nominalOhms: number;
  /** Half the width of the window. */
  toleranceOhms: number;
  meter: StreamMeter;
  piecesPerSecond: number;
  /** Standard deviation of the contact from one placing to the next. */
  placingOhms: number;
  /** Whether the reference was read in a fixture, so that its scatter knows nothing of hands. */
  referenceInFixture: boolean;
}

const KILO = 1e3;
const MEGA = 1e6;

type Given = Partial<Omit<Kind, 'meter'>> & { meter?: Partial<StreamMeter> };

function kind(name: string, nominalOhms: number, percent: number, given: Given = {}): Kind {
  const toleranceOhms = (nominalOhms * percent) / 100;
  return {
    name,
    pieces: 900,
    nominalOhms,
    toleranceOhms,
    piecesPerSecond: 2,
    placingOhms: 0.002,
    referenceInFixture: false,
    ...given,
    meter: {
      rangeOhms: decadeAbove(nominalOhms + toleranceOhms),
      readingsPerSecond: 20,
      apertureMilliseconds: 4,
      noisePpm: 4.5,
      handOhms: 0.0005,
      farads: 1e-9,
      ...given.meter,
    },
  };
}

/** From 0 Ω to 100 MΩ. */
export const KINDS: readonly Kind[] = [
  kind('0 Ω, at most 50 mΩ, by hand', 0, 0, { toleranceOhms: 0.05, meter: { handOhms: 0.001 } }),
  kind('0.1 Ω ±5 %, four wires', 0.1, 5, { placingOhms: 0.0001, meter: { handOhms: 0.0001, noisePpm: 1 } }),
  kind('1 Ω ±1 %, by hand', 1, 1, { meter: { handOhms: 0.002 } }),
  kind('10 Ω ±1 %, by hand, reference in a fixture', 10, 1, {
    referenceInFixture: true,
    piecesPerSecond: 1.25,
    meter: { handOhms: 0.001 },
  }),
  kind('47 Ω ±5 %', 47, 5, { meter: { readingsPerSecond: 22 } }),
  kind('470 Ω ±2 %', 470, 2, { meter: { readingsPerSecond: 24 } }),
  kind('4.7 kΩ ±1 %', 4.7 * KILO, 1),
  kind('4.7 kΩ ±0.1 %, 25 readings a second', 4.7 * KILO, 0.1, {
    meter: { readingsPerSecond: 25, apertureMilliseconds: 20, noisePpm: 2 },
  }),
  kind('4.7 kΩ ±5 %, range chosen by the meter', 4.7 * KILO, 5, { meter: { rangeOhms: null } }),
  kind('33 kΩ ±10 %', 33 * KILO, 10),
  kind('100 kΩ ±1 %', 100 * KILO, 1, { meter: { readingsPerSecond: 25 } }),
  kind('1 MΩ ±1 %', MEGA, 1, { meter: { readingsPerSecond: 25 } }),
  kind('1.1 MΩ ±10 %, range chosen by the meter', 1.1 * MEGA, 10, {
    meter: { rangeOhms: null, readingsPerSecond: 25 },
  }),
  kind('2.2 MΩ ±5 %', 2.2 * MEGA, 5, { piecesPerSecond: 1.8, meter: { readingsPerSecond: 22 } }),
  kind('10 MΩ ±5 %', 10 * MEGA, 5, { piecesPerSecond: 1.4 }),
  kind('33 MΩ ±5 %', 33 * MEGA, 5, { pieces: 400, piecesPerSecond: 0.5 }),
  kind('100 MΩ ±10 %', 100 * MEGA, 10, { pieces: 400, piecesPerSecond: 0.26 }),
  kind('100 MΩ ±10 % on long leads', 100 * MEGA, 10, {
    pieces: 400,
    piecesPerSecond: 0.08,
    meter: { farads: 4e-9 },
  }),
];
