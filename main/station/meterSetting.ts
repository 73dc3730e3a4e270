import { chooseRange } from '../../core/accuracy/chooseRange.ts';
import type { MeterData } from '../../core/accuracy/meterData.ts';
import type { Run } from '../../core/inspection/run.ts';
import { Problem, problem } from '../../core/problem/problem.ts';
import type { Meter, MeterSetting, MeterSettingFound } from '../../instruments/meter/meter.ts';

/** Sets the meter as the run asks for. @throws {Problem} range-too-small, and those of `Meter.configure` */
export function setForRun(meter: Meter, run: Run, data: MeterData | null): Promise<MeterSettingFound> {
  return meter.configure(settingFor(run, data));
}

/**
 * Sets the meter as the run asks for and refuses another setting than the one the run began with: a certificate names one
 * setting, and readings under another must not join it.
 * @throws {Problem} setting-not-taken, and those of `Meter.configure`
 */
export async function setAsBefore(meter: Meter, run: Run): Promise<void> {
  const found = await setForRun(meter, run, run.meter?.data ?? null);
  const before = run.meter?.setting;
  for (const name of ['function', 'range', 'rangeOhms', 'integrationCycles'] as const) {
    if (before && before[name] !== found[name] && !(name === 'rangeOhms' && found.range === 'auto')) {
      throw problem('setting-not-taken', name, String(before[name]), String(found[name]));
    }
  }
}

/**
 * The setting a run asks for: the range on which its whole window fits with the smallest error, where the accuracy of the
 * meter is known, else the one that covers the window; or the meter's own choice where that was asked for.
 */
function settingFor({ measurement, window }: Run, data: MeterData | null): MeterSetting {
  const fixed = measurement.range === 'window' && window.upper !== null;
  return {
    function: measurement.method,
    range: fixed ? { coversOhms: bestRange(data, measurement.method, window) ?? String(window.upper) } : 'auto',
    integrationCycles: Number(measurement.integrationCycles),
  };
}

/** @throws {Problem} range-too-small */
function bestRange(data: MeterData | null, method: '2-wire' | '4-wire', window: Run['window']): string | null {
  if (data === null) return null;
  try {
    return chooseRange(data, method, window)?.fullScaleOhms ?? null;
  } catch (thrown) {
    // Data without a range for the method are refused by the check of the reference, which needs it.
    if (thrown instanceof Problem && thrown.code === 'accuracy-missing') return null;
    throw thrown;
  }
}
