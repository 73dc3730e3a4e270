import * as z from 'zod';
import { lineOfText, namedText } from '../inspection/text.ts';
import { decimalText } from '../quantity/decimal.ts';

/** A calendar day like `2026-11-25`. */
export const calendarDay = z.iso.date('expected a day like 2026-11-25');

const notNegative = decimalText.refine((text) => !text.startsWith('-'), 'must not be negative');
const aboveZero = notNegative.refine((text) => Number(text) > 0, 'must be above 0');

const meterRange = z.strictObject({
  /** The functions this row of the manual is for. */
  method: z.enum(['2-wire', '4-wire', 'both']),
  /** What the range is called by and its per cent are of, in ohms. */
  fullScaleOhms: aboveZero,
  percentOfReading: notNegative,
  /** What is added to the share of the reading: a share of the range, or counts of the last digit. */
  plus: z.union(
    [z.strictObject({ percentOfRange: notNegative }), z.strictObject({ counts: notNegative, countOhms: aboveZero })],
    { error: 'expected { "percentOfRange": "0.001" } or { "counts": "3", "countOhms": "0.01" }' },
  ),
  /** What is added for each kelvin outside the ambient band; null where the manual gives none. */
  perKelvin: z.strictObject({ percentOfReading: notNegative, percentOfRange: notNegative }).nullable().default(null),
  testCurrentAmperes: aboveZero.nullable().default(null),
});

function areDifferent(ranges: readonly z.output<typeof meterRange>[]): boolean {
  const named = ranges.flatMap(({ method, fullScaleOhms }) =>
    (method === 'both' ? ['2-wire', '4-wire'] : [method]).map((one) => `${one} ${Number(fullScaleOhms)}`),
  );
  return new Set(named).size === named.length;
}

/**
 * What the manual and the calibration certificate of a meter say, as somebody entered it. All numbers are decimal texts.
 * The limits of error hold from the calibration on for `validDays` and inside the ambient band.
 */
export const meterData = z.strictObject({
  calibration: z
    .strictObject({
      date: calendarDay,
      /** The last day on which the calibration counts. */
      due: calendarDay,
      /** Number of the calibration certificate. */
      certificate: namedText,
      /** Who calibrated it. */
      by: lineOfText.default(''),
    })
    .refine(({ date, due }) => due >= date, 'is due before its own day'),
  /** Days from the calibration date for which the limits of error hold, as the manual says. */
  validDays: z.number().int().min(1).max(36500),
  /** Ambient temperatures for which the limits of error hold, in degrees Celsius. */
  ambient: z
    .strictObject({ lowest: decimalText, highest: decimalText })
    .refine(({ lowest, highest }) => Number(lowest) < Number(highest), 'must have its lowest below its highest'),
  ranges: z
    .array(meterRange)
    .min(1, 'must have at least one range')
    .max(60, 'may have at most 60 ranges')
    .refine(areDifferent, 'must not have the same range twice for one method'),
});

export type MeterData = z.output<typeof meterData>;
/** Meter data as they may be written (defaults left out). */
export type MeterDataInput = z.input<typeof meterData>;
export type MeterRange = MeterData['ranges'][number];
