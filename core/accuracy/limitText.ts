import type { MeterRange } from './meterData.ts';

type Limit = Pick<MeterRange, 'percentOfReading' | 'plus' | 'perKelvin' | 'testCurrentAmperes'>;

const NUMBER = String.raw`(\d+(?:\.\d+)?)`;
const TEXT = new RegExp(
  `^±\\(${NUMBER} % of reading \\+ (?:${NUMBER} % of range|${NUMBER} counts of ${NUMBER} Ω)\\)` +
    `(?:, and ${NUMBER} % of reading \\+ ${NUMBER} % of range per kelvin outside the ambient band)?` +
    `(?:; test current ${NUMBER} A)?$`,
  'u',
);

/** The limit of error of a range as manuals print it, like `±(0.002 % of reading + 0.0005 % of range)`. */
export function formatLimit({ percentOfReading, plus, perKelvin, testCurrentAmperes }: Limit): string {
  const added =
    'percentOfRange' in plus ? `${plus.percentOfRange} % of range` : `${plus.counts} counts of ${plus.countOhms} Ω`;
  const outside = perKelvin
    ? `, and ${perKelvin.percentOfReading} % of reading + ${perKelvin.percentOfRange} % of range per kelvin outside the ambient band`
    : '';
  const current = testCurrentAmperes === null ? '' : `; test current ${testCurrentAmperes} A`;
  return `±(${percentOfReading} % of reading + ${added})${outside}${current}`;
}

/** Reads back what {@link formatLimit} wrote; null for anything else. */
export function parseLimit(text: string): Limit | null {
  const match = TEXT.exec(text);
  if (!match) return null;
  const [, percentOfReading = '', percentOfRange, counts = '', countOhms = '', perReading, perRange = '', amperes] =
    match;
  return {
    percentOfReading,
    plus: percentOfRange === undefined ? { counts, countOhms } : { percentOfRange },
    perKelvin: perReading === undefined ? null : { percentOfReading: perReading, percentOfRange: perRange },
    testCurrentAmperes: amperes ?? null,
  };
}
