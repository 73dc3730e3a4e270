import type { DecimalText } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { type Analysis, analyse } from '../statistics/analysis.ts';
import type { Limits } from '../statistics/values.ts';
import type { Window } from '../window/window.ts';
import { counts, type Reading, type Run } from './run.ts';

/** A reading that counts and has a value. */
export type Valued = Pick<Reading, 'piece' | 'raw'> & { ohms: DecimalText; value: number };

/** Everything that the readings of a run say which count and have a value, and these readings, pieces in their order. */
export function analysisOfRun(run: Pick<Run, 'readings' | 'window' | 'lot'>): {
  analysis: Analysis;
  valued: readonly Valued[];
} {
  const valued = valuedOf(run);
  const values = Float64Array.from(valued, ({ value }) => value);
  const options = { resolution: coarsestDigit(valued), lotSize: run.lot.size };
  return { analysis: analyse(values, limitsOf(run.window), options), valued };
}

/** The limits of a window for statistics only; verdicts are decided in exact decimals. */
export function limitsOf({ nominal, lower, upper }: Window): Limits {
  const asNumber = (text: string | null) => (text === null ? null : Number(text));
  return { nominal: asNumber(nominal), lower: asNumber(lower), upper: asNumber(upper) };
}

/** The readings that count and have a value, pieces in their order. */
export function valuedOf({ readings }: Pick<Run, 'readings'>): Valued[] {
  const valued: Valued[] = [];
  for (const reading of readings) {
    const { piece, raw, ohms } = reading;
    if (counts(reading) && ohms !== null) valued.push({ piece, raw, ohms, value: Number(ohms) });
  }
  return valued.sort((a, b) => a.piece - b.piece);
}

/** What the coarsest last digit of the readings is worth; null where it cannot be told. */
function coarsestDigit(valued: readonly Valued[]): number | null {
  let coarsest: number | null = null;
  for (const { raw } of valued) {
    const digit = Number(resolutionOfRaw(raw) ?? Number.NaN);
    if (Number.isFinite(digit) && digit > (coarsest ?? 0)) coarsest = digit;
  }
  return coarsest;
}
