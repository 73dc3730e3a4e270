import Big from 'big.js';
import type { MeterData } from '../../core/accuracy/meterData.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { RANGES_OHMS } from '../../instruments/bench/functions.ts';
import { testCurrent } from '../../instruments/bench/testCurrent.ts';

const ONE_YEAR = 365;

/**
 * Accuracy of the simulated bench's own meter, as its manual would print it; invented, and wide enough for its noise at the
 * shortest integration time. It is calibrated on the day it is used.
 * @param today a calendar day like `2026-11-25`
 */
export function benchMeterData(today: string): MeterData {
  const nextYear = new Date(Date.parse(`${today}T00:00:00Z`) + ONE_YEAR * 86_400_000).toISOString().slice(0, 10);
  return {
    calibration: { date: today, due: nextYear, certificate: 'none: simulated', by: '' },
    validDays: ONE_YEAR,
    ambient: { lowest: '18', highest: '28' },
    ranges: RANGES_OHMS.map((ohms) => ({
      method: 'both',
      fullScaleOhms: String(ohms),
      percentOfReading: '0.010',
      plus: { percentOfRange: '0.005' },
      perKelvin: { percentOfReading: '0.001', percentOfRange: '0.0005' },
      testCurrentAmperes: plain(new Big(testCurrent(ohms))),
    })),
  };
}
