import { formatLimit } from '../accuracy/limitText.ts';
import type { MeterData } from '../accuracy/meterData.ts';
import type { MeterFacts } from '../inspection/event.ts';
import { type Row, SET_BY, textRow } from './format.ts';

/** What a certificate says of a meter that was connected: who it is, its settings, how exact it is. */
export function meterRows({ identity, setting, dialect, setByHand, measures, data }: MeterFacts, at: string): Row[] {
  return [
    { row: 'meter', item: 'identity', text: identity.text, at },
    textRow('meter', 'function', setting.function),
    { row: 'meter', item: 'range', text: setting.range, ohms: setting.rangeOhms ?? '' },
    textRow('meter', 'integration time in mains cycles', setting.integrationCycles),
    textRow('meter', 'set', setByHand ? SET_BY.hand : SET_BY.program),
    textRow('meter', 'dialect', dialect),
    textRow('meter', 'measures', measures.join(' ')),
    ...dataRows(data),
  ];
}

function dataRows(data: MeterData | null): Row[] {
  if (data === null) return [textRow('meter', 'calibration', 'unknown')];
  const { calibration, validDays, ambient, ranges } = data;
  return [
    textRow('meter', 'calibration', calibration.date),
    textRow('meter', 'calibration due', calibration.due),
    textRow('meter', 'calibration certificate', calibration.certificate),
    textRow('meter', 'calibrated by', calibration.by),
    textRow('meter', 'limits of error hold for days', String(validDays)),
    { row: 'meter', item: 'limits of error hold from', celsius: ambient.lowest },
    { row: 'meter', item: 'limits of error hold to', celsius: ambient.highest },
    ...ranges.map(
      (range): Row => ({
        row: 'meter',
        item: `limit of error ${range.method}`,
        text: formatLimit(range),
        ohms: range.fullScaleOhms,
      }),
    ),
  ];
}
