import Big from 'big.js';
import type { ReferenceShown } from '../inspection/run.ts';
import { type AtTheBench, worthOf } from '../inspection/worth.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { TemperatureFacts } from '../uncertainty/temperatureFacts.ts';
import type { Window } from '../window/window.ts';
import { mostDriftOhms } from './mostDrift.ts';

/** A check of the reference as it speaks of the meter. All in ohms. */
export interface MeterDriftPoint {
  /** How many readings had been taken before it. */
  afterReading: number;
  at: string;
  name: string;
  /** Mean of what the meter showed. */
  shownOhms: DecimalText;
  /** Shown less the value of the reference. */
  deviationOhms: DecimalText;
  /** What of it has come since the first check with the same reference. */
  driftOhms: DecimalText;
  /** How far the meter may move between two checks. */
  mostDriftOhms: DecimalText;
  /** Expanded uncertainty of the reference. */
  uncertaintyOhms: DecimalText;
  en: number | null;
  passed: boolean;
}

const MEAN_DECIMALS = 2;
const DIGITS = 6;
/** A reference has a coefficient of its own, which is not the part's: its certificate's uncertainty answers for it. */
const LEFT_OUT: TemperatureFacts['coefficient'] = { kind: 'unknown' };

/** Mean of exact decimals, rounded to two decimals more than the finest of them. */
export function meanOf(ohms: readonly DecimalText[]): Big {
  const finest = Math.max(0, ...ohms.map((text) => text.split('.')[1]?.length ?? 0));
  const Rounding = Big();
  Rounding.DP = finest + MEAN_DECIMALS;
  Rounding.RM = 2;
  return new Rounding(ohms.reduce((sum, text) => sum.plus(text), new Big(0))).div(ohms.length);
}

/**
 * The E_n number of a check: deviation over the two expanded uncertainties in root sum of squares (ISO/IEC 17043:2010, B.3.1.3,
 * from memory). Beyond ±1 meter and reference do not agree. Null where both are 0.
 */
export function enNumber(deviationOhms: number, expandedOhms: number, referenceExpandedOhms: number): number | null {
  const both = Math.hypot(expandedOhms, referenceExpandedOhms);
  return both === 0 ? null : deviationOhms / both;
}

/** How the meter has moved over the run, by its reference. A reference of another name begins anew. */
export function meterDrift(references: readonly ReferenceShown[], window: Window): MeterDriftPoint[] {
  const firstOf = new Map<string, Big>();
  return references.map((reference) => {
    const { afterReading, at, name, ohms, measuredOhms, uncertaintyOhms, en, passed } = reference;
    const shown = meanOf(measuredOhms);
    const key = `${name} ${ohms}`;
    const first = firstOf.get(key) ?? shown;
    firstOf.set(key, first);
    return {
      afterReading,
      at,
      name,
      shownOhms: shown.toFixed(),
      deviationOhms: shown.minus(ohms).toFixed(),
      driftOhms: shown.minus(first).toFixed(),
      mostDriftOhms: mostDriftOhms(window, ohms, reference.resolutionOhms).prec(DIGITS, Big.roundDown).toFixed(),
      uncertaintyOhms,
      en,
      passed,
    };
  });
}

/** E_n of a reference that was measured, by what a reading of its value is worth; null where that is not known. */
export function enOf(
  run: AtTheBench,
  reference: Pick<ReferenceShown, 'ohms' | 'uncertaintyOhms' | 'measuredOhms'>,
  raw: string,
  at: string,
): number | null {
  const shown = meanOf(reference.measuredOhms);
  const ofReference = { ...run, temperature: { ...run.temperature, coefficient: LEFT_OUT } };
  const { expandedOhms, basis } = worthOf(ofReference, { ohms: shown.toFixed(), raw }, at);
  // Where the meter is trusted only by this very reference, comparing the two says nothing.
  if (expandedOhms === null || basis !== 'limits-of-error') return null;
  return enNumber(Number(shown.minus(reference.ohms)), Number(expandedOhms), Number(reference.uncertaintyOhms));
}
