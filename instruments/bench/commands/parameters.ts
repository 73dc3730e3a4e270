import {
  cyclesFor,
  FUNCTIONS,
  type FunctionName,
  INTEGRATION_CYCLES,
  largestRange,
  rangeFor,
  USUAL_CYCLES,
} from '../functions.ts';
import { isForm, type Parameter, ScpiError } from '../grammar.ts';
import type { Place } from '../place.ts';
import { type PairPlace, pairPlace, terminalsOf } from '../wiring.ts';

export interface Limits {
  minimum: number;
  maximum: number;
  usual: number;
}

type Suffixes = Record<string, number>;
const NO_SUFFIX: Suffixes = { '': 1 };
const SUFFIXES: Record<'OHM' | 'V' | 'C', Suffixes> = {
  OHM: {
    '': 1,
    OHM: 1,
    KOHM: 1e3,
    // IEEE 488.2 table 7-2: with OHM the M means mega, not milli.
    MOHM: 1e6,
    MAOHM: 1e6,
    GOHM: 1e9,
  },
  V: { '': 1, V: 1, MV: 1e-3, KV: 1e3, UV: 1e-6 },
  C: NO_SUFFIX,
};

export const cycleLimits: Limits = {
  minimum: INTEGRATION_CYCLES[0] ?? 0,
  maximum: INTEGRATION_CYCLES.at(-1) ?? 0,
  usual: USUAL_CYCLES,
};

export function rangeLimits(name: FunctionName): Limits {
  const { ranges, usualRange } = FUNCTIONS[name];
  return { minimum: ranges[0] ?? 0, maximum: largestRange(name), usual: usualRange };
}

export function required(parameter: Parameter | undefined): Parameter {
  if (!parameter) throw new ScpiError(-109);
  return parameter;
}

/** A number or one of MINimum, MAXimum, DEFault (SCPI-1999 volume 1, 7.2.1.1 to 7.2.1.3). */
export function numeric(parameter: Parameter, limits: Limits, suffixes: Suffixes = NO_SUFFIX): number {
  if (parameter.kind === 'word') return named(parameter, limits);
  return plainNumber(parameter, suffixes);
}

/** A number and nothing else. */
export function plainNumber(parameter: Parameter, suffixes: Suffixes = NO_SUFFIX): number {
  if (parameter.kind !== 'number') throw new ScpiError(-104, parameter.text);
  const multiplier = suffixes[parameter.suffix];
  if (multiplier === undefined) throw new ScpiError(-131, parameter.suffix);
  return parameter.value * multiplier;
}

/** A number in the unit of a function. */
export function quantity(parameter: Parameter, name: FunctionName, limits: Limits): number {
  return numeric(parameter, limits, SUFFIXES[FUNCTIONS[name].unit]);
}

export function named(parameter: Parameter, limits: Limits): number {
  if (parameter.kind !== 'word') throw new ScpiError(-104);
  if (isForm('MINimum', parameter.text)) return limits.minimum;
  if (isForm('MAXimum', parameter.text)) return limits.maximum;
  if (isForm('DEFault', parameter.text)) return limits.usual;
  throw new ScpiError(-224, parameter.text);
}

/** One of some words, by its place among them. */
export function oneOf<T extends string>(parameter: Parameter | undefined, patterns: readonly T[]): T {
  const word = required(parameter);
  if (word.kind !== 'word') throw new ScpiError(-104);
  const found = patterns.find((pattern) => isForm(pattern, word.text));
  if (found === undefined) throw new ScpiError(-224, word.text);
  return found;
}

/** The range that covers so much, up or down. */
export function range(parameter: Parameter, name: FunctionName): number {
  const value = quantity(parameter, name, rangeLimits(name));
  const found = value < 0 ? null : rangeFor(name, value);
  if (found === null) throw new ScpiError(-222, String(value));
  return found;
}

/** The integration time that is at least so long. */
export function cycles(parameter: Parameter): number {
  const value = numeric(parameter, cycleLimits);
  const found = value <= 0 ? null : cyclesFor(value);
  if (found === null) throw new ScpiError(-222, String(value));
  return found;
}

/** A whole number; others are rounded (IEEE 488.2 10.10.3, 10.25.3). */
export function whole(parameter: Parameter | undefined, minimum: number, maximum: number): number {
  const value = Math.round(numeric(required(parameter), { minimum, maximum, usual: 0 }));
  if (value < minimum || value > maximum) throw new ScpiError(-222, String(value));
  return value;
}

/** ON, OFF or a number that rounds to 0 or not (SCPI-1999 volume 1, 7.3). */
export function onOff(parameter: Parameter | undefined): boolean {
  const wanted = required(parameter);
  if (wanted.kind === 'number') return Math.round(wanted.value) !== 0;
  return oneOf(wanted, ['ON', 'OFF']) === 'ON';
}

/** A function of the meter by its quoted name. */
export function functionName(parameter: Parameter | undefined): FunctionName {
  const { kind, text } = { text: '', ...required(parameter) };
  if (kind !== 'string') throw new ScpiError(-104);
  const name = text.trim().toUpperCase();
  if (isForm('RESistance', name)) return 'RES';
  if (isForm('FRESistance', name)) return 'FRES';
  if (isForm('CONTinuity', name)) return 'CONT';
  if (isForm('VOLTage', name.replace(/:DC$/, ''))) return 'VOLT';
  if (isForm('TEMPerature', name)) return 'TEMP';
  throw new ScpiError(-224, text);
}

const PLACES = { OPEN: 'OPEN', SHORt: 'SHOR', REFerence: 'REF', FIXTure: 'FIXT' } as const satisfies Record<
  string,
  Place
>;

/** A place for the probes: as `place`, or two terminals of the wiring by their quoted names. */
export function placeOrPair(where: Parameter | undefined, other: Parameter | undefined): Place {
  if (where?.kind !== 'string') {
    if (other) throw new ScpiError(-108);
    return place(where);
  }
  return pair(where, required(other));
}

/** Two terminals by their quoted names. */
export function pair(from: Parameter, to: Parameter): PairPlace {
  if (from.kind !== 'string' || to.kind !== 'string') throw new ScpiError(-104);
  const [a, b] = terminalsOf(`"${from.text}","${to.text}"`) ?? [];
  if (!a || !b) throw new ScpiError(-224, `${from.text}, ${to.text}`);
  return pairPlace(a, b);
}

/** A place for the probes: a piece by its number, or the name of a place. */
export function place(parameter: Parameter | undefined): Place {
  const where = required(parameter);
  if (where.kind === 'word') return PLACES[oneOf(where, Object.keys(PLACES) as (keyof typeof PLACES)[])];
  const piece = plainNumber(where);
  if (!Number.isInteger(piece) || piece < 1 || piece > 1e9) throw new ScpiError(-222);
  return piece;
}
