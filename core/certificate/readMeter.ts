import { parseLimit } from '../accuracy/limitText.ts';
import { type MeterData, type MeterDataInput, meterData } from '../accuracy/meterData.ts';
import { checked } from '../contract/invalid.ts';
import { METER_FUNCTIONS, type MeterFacts } from '../inspection/event.ts';
import { isSimulatedBench } from '../inspection/simulatedBench.ts';
import { SET_BY } from './format.ts';
import type { RowReader } from './rowReader.ts';

type RangeInput = MeterDataInput['ranges'][number];

/** Reads the rows of a meter that was connected. @throws problem certificate-broken with the row */
export function readMeter(rows: RowReader): { meter: MeterFacts; at: string } {
  const identity = rows.take('meter', 'identity');
  const text = identity.value('text');
  const measured = rows.take('meter', 'function').oneOf('text', ['2-wire', '4-wire']);
  const range = rows.take('meter', 'range');
  const cycles = rows.take('meter', 'integration time in mains cycles');
  const setting = {
    function: measured,
    range: range.oneOf('text', ['fixed', 'auto']),
    rangeOhms: range.decimalOrNone('ohms'),
    integrationCycles: cycles.value('text'),
  };
  if (setting.range === 'fixed' && !(Number(setting.rangeOhms) > 0)) throw range.broken('a fixed range has a value');
  if (!(Number(setting.integrationCycles) > 0)) throw cycles.broken('the integration time is not a number above 0');
  const set = rows.take('meter', 'set').oneOf('text', [SET_BY.program, SET_BY.hand]);
  const dialect = rows.take('meter', 'dialect').value('text');
  const meter: MeterFacts = {
    address: '',
    identity: { maker: '', model: '', serial: '', firmware: '', text, simulated: isSimulatedBench(text) },
    setting,
    dialect,
    setByHand: set === SET_BY.hand,
    measures: readMeasures(rows),
    data: readData(rows),
  };
  return { meter, at: identity.time() };
}

function readMeasures(rows: RowReader): MeterFacts['measures'] {
  const row = rows.take('meter', 'measures');
  const words = row
    .value('text')
    .split(' ')
    .filter((word) => word !== '');
  return words.map((word) => {
    const known = METER_FUNCTIONS.find((name) => name === word);
    if (known === undefined) throw row.broken(`no meter measures "${word}"`);
    return known;
  });
}

function readData(rows: RowReader): MeterData | null {
  const first = rows.take('meter', 'calibration');
  if (first.value('text') === 'unknown') return null;
  const calibration = {
    date: first.value('text'),
    due: rows.take('meter', 'calibration due').value('text'),
    certificate: rows.take('meter', 'calibration certificate').value('text'),
    by: rows.take('meter', 'calibrated by').value('text'),
  };
  const validDays = Number(rows.take('meter', 'limits of error hold for days').value('text'));
  const lowest = rows.take('meter', 'limits of error hold from').value('celsius');
  const highest = rows.take('meter', 'limits of error hold to').value('celsius');
  const data = { calibration, validDays, ambient: { lowest, highest }, ranges: readRanges(rows) };
  return first.holds(() => checked<MeterData>('the data of the meter', meterData, data));
}

function readRanges(rows: RowReader): RangeInput[] {
  const ranges: RangeInput[] = [];
  while (rows.peek().is('meter') && rows.peek().value('item').startsWith('limit of error ')) {
    const row = rows.take('meter');
    const method = (['2-wire', '4-wire', 'both'] as const).find((name) => row.is('meter', `limit of error ${name}`));
    const limit = parseLimit(row.value('text'));
    if (!method || !limit) throw row.broken('this is no limit of error');
    ranges.push({ method, fullScaleOhms: row.decimal('ohms'), ...limit });
  }
  return ranges;
}
