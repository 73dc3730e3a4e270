import Big from 'big.js';
import { OVER_RANGE } from '../accuracy/chooseRange.ts';
import { limitOfError, nearestLimitOfError } from '../accuracy/limitOfError.ts';
import { formatLimit } from '../accuracy/limitText.ts';
import type { MeterData, MeterRange } from '../accuracy/meterData.ts';
import { Problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import { type Budget, combine, combined, DIVISORS, figuresOf, type Input, withinOhms } from './budget.ts';
import { type TemperaturePart, temperaturePart } from './temperature.ts';
import type { TemperatureFacts } from './temperatureFacts.ts';
import { zeroAndLeadsPart } from './zeroAndLeads.ts';

/** A reference resistor and what the meter showed of it, the zero subtracted. All in ohms. */
export interface MeasuredReference {
  ohms: DecimalText;
  /** Its expanded uncertainty, k = 2. */
  uncertaintyOhms: DecimalText;
  measuredOhms: readonly DecimalText[];
  /** How far the meter may move on it until the next check; beyond that the readings between are suspect. */
  mostDriftOhms: DecimalText;
}

/** All that the uncertainty of one reading is worked out from. */
export interface Situation {
  /** The meter's reading less the zero, not yet brought to the reference temperature. */
  ohms: DecimalText;
  /** The meter's own text; its last digit is the resolution. */
  raw: string;
  method: '2-wire' | '4-wire';
  /** The range the reading was taken on; null where it is not known. */
  meterRange: MeterRange | null;
  meterData: MeterData | null;
  /** Whether the limits of error count: whether the calibration is in date. */
  trustMeterData: boolean;
  /** Null where it is not known. */
  ambientCelsius: DecimalText | null;
  /** What the shorted leads showed in the round in force. */
  zero: { readings: readonly DecimalText[] };
  /** How much leads and contacts may change between two checks; 0 in 4-wire. */
  leadChangeOhms: DecimalText;
  reference: MeasuredReference | null;
  /** Standard deviation of single readings and its degrees of freedom; null where it is not known. */
  repeatability: { ohms: DecimalText; degreesOfFreedom: number } | null;
  temperature: TemperatureFacts;
}

/** What the meter's part of the uncertainty rests on. */
export type Basis = 'limits-of-error' | 'reference';

/** How far a reading is known. */
export interface ReadingWorth {
  /** U, rounded up to two significant figures (JCGM 100:2008, 7.2.6); null where it is not known. */
  expandedOhms: DecimalText | null;
  /** k, to two decimals. */
  coverageFactor: DecimalText;
}

/** What one reading is worth, line by line. */
export interface ReadingBudget extends ReadingWorth {
  /** Null where the uncertainty is not known: part of a budget would look like one. */
  budget: Budget | null;
  basis: Basis | null;
  /** What the budget rests on, or why there is none, in words. */
  why: string;
  /** What it leaves out or takes for granted, in words. */
  notes: string[];
}

const K_DECIMALS = 2;
const FIGURES = 2;
/** Beyond these, what a double adds of its own ends. */
const FIGURES_OF_A_SUM = 12;
const NO_K = '2.00';
const DECADE = 10;
const REFERENCE_K = 2;

/**
 * The budget of one reading: R = (R_shown - R_zero + errors of meter, resolution, zero, leads, repeatability) / (1 + α·ΔT).
 * The meter's own part comes from its limit of error; where that is not known or not in date, from a reference measured
 * within a decade; else the uncertainty is not known.
 */
export function readingBudget(situation: Situation): ReadingBudget {
  const lines = linesOf(situation);
  if ('unknown' in lines) return unknownBecause(lines.unknown);
  const { inputs, meter, zero, warmth } = lines;
  const budget = combine(inputs);
  return {
    budget,
    basis: meter.basis,
    why: meter.why,
    notes: [...meter.notes, ...zero.notes, ...repeatabilityNotes(situation), ...warmth.notes, ...budget.notes],
    ...worthBy(budget),
  };
}

/** The U and k of {@link readingBudget} alone, without its lines in words: for one reading after the other. */
export function readingWorth(situation: Situation): ReadingWorth {
  const quick = worthByLimit(situation);
  if (quick !== null) return quick;
  const lines = linesOf(situation);
  return 'unknown' in lines ? UNKNOWN : worthBy(combined(lines.inputs));
}

const UNKNOWN: ReadingWorth = { expandedOhms: null, coverageFactor: NO_K };

function worthBy({ expandedOhms, coverageFactor }: Pick<Budget, 'expandedOhms' | 'coverageFactor'>): ReadingWorth {
  return { expandedOhms: roundedUp(expandedOhms), coverageFactor: textOfFactor(coverageFactor) };
}

const textOfFactor = rememberLast((factor: number) => factor.toFixed(K_DECIMALS));

/**
 * U and k from the limit of error in figures only: the same sums in the same order as by the lines of {@link linesOf}, of which all
 * but the first stay the same between two checks of the bench. Null where they are not to be had so.
 */
function worthByLimit(situation: Situation): ReadingWorth | null {
  const { meterData, meterRange, trustMeterData, ohms, ambientCelsius, temperature, repeatability } = situation;
  if (meterData === null || meterRange === null || !trustMeterData || isAboveRange(meterRange, ohms)) return null;
  const resolution = resolutionOfRaw(situation.raw);
  const warmth = temperaturePart(ohms, ambientCelsius, temperature);
  if (resolution === null || 'unknown' in warmth || !hasLimit(meterData.ambient, meterRange, ambientCelsius))
    return null;
  const limit = nearestLimitOfError(meterData, meterRange, ohms, ambientCelsius) / DIVISORS.rectangular;
  const { toReference, inputs } = warmth;
  const besides = besidesLimit(
    situation.method,
    situation.zero.readings,
    situation.leadChangeOhms,
    resolution,
    repeatability,
    toReference,
  );
  const signed = [toReference * limit, ...besides.signed];
  for (const { sensitivity, standardUncertainty } of inputs) signed.push(sensitivity * standardUncertainty);
  // What warmth contributes has infinitely many, as those that are left out have.
  const figures = figuresOf(signed, besides.degreesOfFreedom);
  return Number.isFinite(figures.variance) ? worthBy(figures) : null;
}

/** Whether the manual says how far off the meter may be at this temperature. */
const hasLimit = rememberLast(
  (ambient: MeterData['ambient'], range: MeterRange, ambientCelsius: DecimalText | null): boolean => {
    try {
      limitOfError({ ambient }, range, '0', ambientCelsius);
      return true;
    } catch (thrown) {
      if (thrown instanceof Problem) return false;
      throw thrown;
    }
  },
);

/** What the lines of the meter but its limit of error have of a reading, the limit's own degrees of freedom before theirs. */
const besidesLimit = rememberLast(
  (
    method: Situation['method'],
    zeroReadings: readonly DecimalText[],
    leadChangeOhms: DecimalText,
    resolution: DecimalText,
    repeatability: Situation['repeatability'],
    toReference: number,
  ) => {
    const zero = zeroAndLeadsPart({ method, zero: { readings: zeroReadings }, leadChangeOhms }, resolution);
    const inputs = [resolutionInput(resolution), ...zero.inputs, ...repeatabilityInput({ repeatability })];
    return {
      signed: inputs.map(({ sensitivity, standardUncertainty }) => sensitivity * toReference * standardUncertainty),
      degreesOfFreedom: [null, ...inputs.map(({ degreesOfFreedom }) => degreesOfFreedom)],
    };
  },
);

interface Lines {
  inputs: Input[];
  meter: MeterPart;
  zero: ReturnType<typeof zeroAndLeadsPart>;
  warmth: TemperaturePart;
}

/** What goes into the budget of a reading. */
function linesOf(situation: Situation): Lines | { unknown: string } {
  const meter = meterPart(situation);
  if ('unknown' in meter) return meter;
  const { ohms, ambientCelsius, temperature } = situation;
  const warmth = temperaturePart(ohms, ambientCelsius, temperature);
  if ('unknown' in warmth) return warmth;
  const resolution = resolutionOfRaw(situation.raw);
  if (resolution === null) return { unknown: 'the last digit of the meter cannot be told from its text' };

  const { toReference } = warmth;
  const zero = zeroAndLeadsPart(situation, resolution);
  const atTheMeter = [...meter.inputs, resolutionInput(resolution), ...zero.inputs, ...repeatabilityInput(situation)];
  const atReference =
    toReference === 1
      ? atTheMeter
      : atTheMeter.map((input) => ({ ...input, sensitivity: input.sensitivity * toReference }));
  return { inputs: [...atReference, ...warmth.inputs], meter, zero, warmth };
}

function unknownBecause(unknown: string): ReadingBudget {
  return {
    budget: null,
    basis: null,
    why: `The uncertainty is not known: ${unknown}.`,
    notes: [],
    expandedOhms: null,
    coverageFactor: NO_K,
  };
}

/** Where two values round to the same, all between them do: the ends of what is known so, and what that is. */
let sameFrom = { least: 1, most: 0, text: '' };

/** Rounded up to two significant figures, both written. */
function roundedUp(ohms: number): DecimalText {
  if (ohms >= sameFrom.least && ohms <= sameFrom.most) return sameFrom.text;
  const text = twoFiguresOf(ohms);
  const { least, most } = text === sameFrom.text ? sameFrom : { least: ohms, most: ohms };
  sameFrom = { least: Math.min(least, ohms), most: Math.max(most, ohms), text };
  return text;
}

function twoFiguresOf(ohms: number): DecimalText {
  if (ohms === 0) return '0';
  // As digits and exponent, like 4.71200000000e-1: what stands behind the two figures says whether they go up.
  const [digits = '', exponent = ''] = ohms.toExponential(FIGURES_OF_A_SUM - 1).split('e');
  const figures = Number(digits[0] + (digits[2] ?? '')) + (/[1-9]/.test(digits.slice(FIGURES + 1)) ? 1 : 0);
  return twoFigures(figures, Number(exponent));
}

/** Two figures, 10 to 100, of which the first is worth a power of ten, as a plain decimal. */
const twoFigures = rememberLast((figures: number, exponent: number): DecimalText => {
  const rounded = new Big(figures).times(`1e${exponent - FIGURES + 1}`);
  return rounded.toFixed(Math.max(0, FIGURES - 1 - rounded.e));
});

interface MeterPart {
  inputs: Input[];
  basis: Basis;
  why: string;
  notes: string[];
}

function meterPart(situation: Situation): MeterPart | { unknown: string } {
  const limit = limitPart(situation);
  if (!('unknown' in limit)) return limit;
  const reference = referencePart(situation, limit.unknown);
  if (!('unknown' in reference)) return reference;
  return { unknown: `${limit.unknown}, and ${reference.unknown}` };
}

/** From the meter's limit of error at this reading (JCGM 100:2008, 4.3.7: limits and nothing else are rectangular). */
function limitPart({
  meterData,
  meterRange,
  trustMeterData,
  ohms,
  ambientCelsius,
}: Situation): MeterPart | { unknown: string } {
  if (meterData === null) return { unknown: 'nobody has entered the accuracy of the meter' };
  if (!trustMeterData) return { unknown: 'the calibration of the meter is not in date' };
  if (meterRange === null) return { unknown: 'the accuracy of the meter says nothing of this range' };
  if (isAboveRange(meterRange, ohms)) {
    return { unknown: `the reading is above the range of ${meterRange.fullScaleOhms} Ω` };
  }
  let limit: DecimalText;
  try {
    limit = limitOfError(meterData, meterRange, ohms, ambientCelsius);
  } catch (thrown) {
    if (!(thrown instanceof Problem && thrown.code === 'accuracy-missing')) throw thrown;
    return {
      unknown: `the accuracy of the meter is not known here (${ambientCelsius} °C is outside its ambient band)`,
    };
  }
  const notes = [
    'The limits of error are those of the manual, and hold for a meter that is warmed up and used as it says.',
  ];
  if (ambientCelsius === null) {
    notes.push('The ambient temperature is not known: the limits of error inside the ambient band were taken.');
  }
  return {
    inputs: [withinOhms('accuracy of the meter', manualOf(meterRange), limit)],
    basis: 'limits-of-error',
    why: `The meter's part is its limit of error of ±${limit} Ω, calibration in date.`,
    notes,
  };
}

function isAboveRange({ fullScaleOhms }: MeterRange, ohms: DecimalText): boolean {
  return Math.abs(Number(ohms)) > Number(fullScaleOhms) * Number(OVER_RANGE);
}

const manualOf = rememberLast(
  (range: MeterRange) => `manual, ${formatLimit({ ...range, testCurrentAmperes: null })}; JCGM 100, 4.3.7`,
);

/**
 * From a reference within a decade of the reading. What the meter showed off it is not corrected for, so the most of it counts
 * as a half-width (JCGM 100:2008, F.2.4.5), and so does what it may move until the next check. Larger values take them in
 * proportion; smaller ones take them whole, for an offset does not shrink with the value.
 */
function referencePart({ reference, ohms }: Situation, unlike: string): MeterPart | { unknown: string } {
  if (reference === null || reference.measuredOhms.length === 0) return { unknown: 'no reference was measured' };
  const value = new Big(reference.ohms);
  const size = new Big(ohms).abs();
  if (size.times(DECADE).lt(value) || size.gt(value.times(DECADE)) || value.lte(0)) {
    return { unknown: `the reference of ${reference.ohms} Ω is not within a decade of the reading` };
  }
  const scale = Math.max(1, Number(size) / Number(value));
  const off = reference.measuredOhms
    .map((one) => value.minus(one).abs())
    .reduce((most, one) => (one.gt(most) ? one : most));
  return {
    inputs: [
      {
        name: 'reference',
        source: `uncertainty of the reference of ${reference.ohms} Ω as entered, k = ${REFERENCE_K}; JCGM 100, 4.3.3`,
        given: `±${reference.uncertaintyOhms} Ω`,
        distribution: 'normal',
        divisor: REFERENCE_K,
        standardUncertainty: Number(reference.uncertaintyOhms) / REFERENCE_K,
        unit: 'Ω',
        sensitivity: scale,
        degreesOfFreedom: null,
      },
      {
        ...withinOhms(
          'meter against the reference',
          'the most it showed off the reference, not corrected for; JCGM 100, F.2.4.5',
          plain(off),
        ),
        sensitivity: scale,
      },
      {
        ...withinOhms(
          'drift of the meter',
          'the most it may move on the reference until the next check; JCGM 100, 4.3.7',
          reference.mostDriftOhms,
        ),
        sensitivity: scale,
      },
    ],
    basis: 'reference',
    why: `The meter's part is what it showed of the reference of ${reference.ohms} Ω, since ${unlike}.`,
    notes: [
      'That the meter is as good at this value as at the reference is taken for granted; a reference near the value of the pieces shows it best.',
    ],
  };
}

const resolutionInput = rememberLast(
  (resolutionOhms: DecimalText): Input =>
    withinOhms('resolution', 'half of the last digit; JCGM 100, F.2.2.1', plain(new Big(resolutionOhms).times('0.5'))),
);

function repeatabilityInput({ repeatability }: Pick<Situation, 'repeatability'>): Input[] {
  if (repeatability === null) return [];
  const { ohms, degreesOfFreedom } = repeatability;
  return [
    {
      name: 'repeatability',
      source: 'scatter of repeated readings; JCGM 100, 4.2.2',
      given: `s = ${ohms} Ω`,
      distribution: 'normal',
      divisor: 1,
      standardUncertainty: Number(ohms),
      unit: 'Ω',
      sensitivity: 1,
      degreesOfFreedom,
    },
  ];
}

function repeatabilityNotes({ repeatability }: Situation): string[] {
  return repeatability === null ? ['How far repeated readings scatter is not known and left out.'] : [];
}
