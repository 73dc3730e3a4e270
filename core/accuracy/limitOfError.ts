import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { rememberLast } from '../quantity/rememberLast.ts';
import type { MeterData, MeterRange } from './meterData.ts';

const PER_CENT = '0.01';
const NONE = new Big(0);

/**
 * The limit of error of one reading, ± ohms, as manuals print it: % of reading plus % of range or counts; outside the
 * ambient band as much more for each kelvin as the manual gives. Exact decimals.
 * @param ohms the reading
 * @param ambientCelsius null where it is not known: then only what holds inside the band counts, the smaller limit
 * @throws problem accuracy-missing outside the band where the manual gives no temperature coefficient
 */
export function limitOfError(
  data: Pick<MeterData, 'ambient'>,
  range: MeterRange,
  ohms: DecimalText,
  ambientCelsius: DecimalText | null = null,
): DecimalText {
  const reading = new Big(ohms).abs();
  const inside = reading.times(partOfReading(range)).plus(partOfRange(range));

  const kelvins = ambientCelsius === null ? NONE : kelvinsOutside(data.ambient, ambientCelsius);
  if (kelvins.eq(0)) return plain(inside);
  const { perKelvin } = range;
  if (perKelvin === null) {
    const { lowest, highest } = data.ambient;
    throw problem(
      'accuracy-missing',
      `${ambientCelsius} °C is outside ${lowest} °C to ${highest} °C, and there is no temperature coefficient`,
    );
  }
  const eachKelvin = share(perKelvin.percentOfReading, reading).plus(
    share(perKelvin.percentOfRange, range.fullScaleOhms),
  );
  return plain(inside.plus(eachKelvin.times(kelvins)));
}

function share(percent: DecimalText, of: Big | DecimalText): Big {
  return new Big(of).times(percent).times(PER_CENT);
}

/** What a reading is multiplied with. */
const partOfReading = rememberLast(
  ({ percentOfReading }: MeterRange): Big => new Big(percentOfReading).times(PER_CENT),
);

/** What is the same for all readings on a range, in ohms. */
const partOfRange = rememberLast(
  ({ plus, fullScaleOhms }: MeterRange): Big =>
    'percentOfRange' in plus ? share(plus.percentOfRange, fullScaleOhms) : new Big(plus.counts).times(plus.countOhms),
);

/** How far a temperature is outside a band, in kelvins; 0 inside. */
const kelvinsOutside = rememberLast(({ lowest, highest }: MeterData['ambient'], celsius: DecimalText): Big => {
  const value = new Big(celsius);
  if (value.lt(lowest)) return new Big(lowest).minus(value);
  return value.gt(highest) ? value.minus(highest) : new Big(0);
});
