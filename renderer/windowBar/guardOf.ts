import Big from 'big.js';
import { counts, type Run } from '../../core/inspection/run.ts';
import { worthOf } from '../../core/inspection/worth.ts';
import type { DecimalText } from '../../core/quantity/decimal.ts';
import { resolutionOfRaw } from '../../core/quantity/formatOhms.ts';
import { lastCheck } from '../words/bench.ts';
import type { Guard } from './guardBands.ts';

/** Where no reading of so many has an uncertainty, none further back says how the next will stand. */
const LOOKED_BACK = 200;

/**
 * The guard bands of a run as they stand now: of the last reading that counts and has an uncertainty; where there is none of late,
 * of what a reading of the nominal value would be worth at this bench.
 */
export function guardOf(run: Run): Guard {
  const { decision } = run;
  if (decision.rule === 'simple-acceptance') return { decision, expandedOhms: null };
  const last = run.readings
    .takeLast(LOOKED_BACK)
    .findLast((reading) => counts(reading) && reading.uncertainty !== null);
  return { decision, expandedOhms: last?.uncertainty?.expandedOhms ?? expected(run) };
}

/** U of a reading of the nominal value, as fine as the meter showed the reference; null where nothing was shown yet. */
function expected(run: Run): DecimalText | null {
  const { window, meter, measurement } = run;
  const ohms = window.nominal ?? window.upper ?? window.lower;
  const reference = lastCheck(run, 'reference');
  const raw = reference?.found.find(({ what, value }) => what === measurement.method && value !== null)?.raw;
  const resolution = raw === undefined ? null : resolutionOfRaw(raw);
  if (!reference || !meter || ohms === null || resolution === null) return null;
  const shown = new Big(ohms).toFixed(Math.max(0, -new Big(resolution).e));
  return worthOf(run, { ohms: shown, raw: shown }, reference.at).expandedOhms;
}
