/** What the simulated meter can measure, by the names its own answers have (SCPI-1999 volume 2, 18). */
export type FunctionName = 'RES' | 'FRES' | 'CONT' | 'VOLT' | 'TEMP';

/** The same functions as a scenario names them. */
export const FUNCTION_NAMES = {
  '2-wire': 'RES',
  '4-wire': 'FRES',
  continuity: 'CONT',
  'dc-volts': 'VOLT',
  temperature: 'TEMP',
} as const satisfies Record<string, FunctionName>;

interface FunctionFacts {
  /** Its node in command headers. */
  word: string;
  /** The unit of a reading: ohms, volts, degrees Celsius. */
  unit: 'OHM' | 'V' | 'C';
  /** Full scales, in that unit, rising. */
  ranges: readonly number[];
  usualRange: number;
  usualCycles: number;
  /** Whether its range may be chosen. */
  ranged: boolean;
}

export interface RangeSetting {
  auto: boolean;
  /** Full scale, in the unit of the function. */
  range: number;
  /** Integration time in power-line cycles, one of `INTEGRATION_CYCLES`. */
  cycles: number;
}

export const INTEGRATION_CYCLES = [0.02, 0.2, 1, 10, 100];
export const USUAL_CYCLES = 10;
// A buzzer has to follow the hand.
const CONTINUITY_CYCLES = 0.2;
const CELSIUS_STEP = 0.01;

/** Resistance ranges by full scale. */
export const RANGES_OHMS = [1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8];
const resistance = {
  unit: 'OHM',
  ranges: RANGES_OHMS,
  usualRange: 1e3,
  usualCycles: USUAL_CYCLES,
  ranged: true,
} as const;

export const FUNCTIONS: Record<FunctionName, FunctionFacts> = {
  RES: { word: 'RESistance', ...resistance },
  FRES: { word: 'FRESistance', ...resistance },
  CONT: {
    word: 'CONTinuity',
    unit: 'OHM',
    ranges: [1e3],
    usualRange: 1e3,
    usualCycles: CONTINUITY_CYCLES,
    ranged: false,
  },
  VOLT: {
    word: 'VOLTage[:DC]',
    unit: 'V',
    ranges: [0.1, 1, 10, 100, 1000],
    usualRange: 10,
    usualCycles: USUAL_CYCLES,
    ranged: true,
  },
  TEMP: {
    word: 'TEMPerature',
    unit: 'C',
    ranges: [1e3],
    usualRange: 1e3,
    usualCycles: USUAL_CYCLES,
    ranged: false,
  },
};

/** How far above its full scale a range still reads. */
export const OVER_RANGE = 1.2;

/** The setting a function begins with: automatic range where it has several. */
export function usualSetting(name: FunctionName): RangeSetting {
  const { ranged, usualRange, usualCycles } = FUNCTIONS[name];
  return { auto: ranged, range: usualRange, cycles: usualCycles };
}

/** The smallest range of a function that is at least so much; null if there is none. */
export function rangeFor(name: FunctionName, value: number): number | null {
  return FUNCTIONS[name].ranges.find((range) => range >= value) ?? null;
}

export function largestRange(name: FunctionName): number {
  return FUNCTIONS[name].ranges.at(-1) ?? 0;
}

/** The shortest integration time of at least so many cycles; null if there is none. */
export function cyclesFor(cycles: number): number | null {
  return INTEGRATION_CYCLES.find((known) => known >= cycles) ?? null;
}

/** What one step of the display is worth, as a fraction of the range: four and a half to seven and a half digits. */
export function resolution(cycles: number): number {
  return cycles >= 10 ? 1e-7 : cycles >= 0.2 ? 1e-6 : 1e-5;
}

/** What one step of the display is worth, in the unit of the function. */
export function displayStep(name: FunctionName, range: number, cycles: number): number {
  return name === 'TEMP' ? CELSIUS_STEP : resolution(cycles) * range;
}
