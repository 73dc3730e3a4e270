import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { type LinearInSize, linearInSize, nearestDouble } from '../quantity/linearInSize.ts';
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
  const { slope, offset } = limitAt(data.ambient, range, ambientCelsius);
  return plain(new Big(ohms).abs().times(slope).plus(offset));
}

/** The double nearest to {@link limitOfError}: the same as its text read as a number, quicker. @throws as it does */
export function nearestLimitOfError(
  data: Pick<MeterData, 'ambient'>,
  range: MeterRange,
  ohms: DecimalText,
  ambientCelsius: DecimalText | null,
): number {
  const nearest = nearestDouble(limitAt(data.ambient, range, ambientCelsius), ohms);
  return nearest ?? Number(limitOfError(data, range, ohms, ambientCelsius));
}

/** The limit of error as it grows with the reading. @throws problem accuracy-missing, see {@link limitOfError} */
const limitAt = rememberLast(
  (ambient: MeterData['ambient'], range: MeterRange, ambientCelsius: DecimalText | null): LinearInSize => {
    const inside = { slope: new Big(range.percentOfReading).times(PER_CENT), offset: partOfRange(range) };
    const kelvins = ambientCelsius === null ? NONE : kelvinsOutside(ambient, ambientCelsius);
    if (kelvins.eq(0)) return linearInSize(inside.slope, inside.offset);
    const { perKelvin, fullScaleOhms } = range;
    if (perKelvin === null) {
      const { lowest, highest } = ambient;
      throw problem(
        'accuracy-missing',
        `${ambientCelsius} °C is outside ${lowest} °C to ${highest} °C, and there is no temperature coefficient`,
      );
    }
    const eachOfReading = new Big(perKelvin.percentOfReading).times(PER_CENT);
    const eachOfRange = share(perKelvin.percentOfRange, fullScaleOhms);
    return linearInSize(
      inside.slope.plus(eachOfReading.times(kelvins)),
      inside.offset.plus(eachOfRange.times(kelvins)),
    );
  },
);

function share(percent: DecimalText, of: DecimalText): Big {
  return new Big(of).times(percent).times(PER_CENT);
}

/** What is the same for all readings on a range, in ohms. */
function partOfRange({ plus, fullScaleOhms }: MeterRange): Big {
  return 'percentOfRange' in plus
    ? share(plus.percentOfRange, fullScaleOhms)
    : new Big(plus.counts).times(plus.countOhms);
}

/** How far a temperature is outside a band, in kelvins; 0 inside. */
function kelvinsOutside({ lowest, highest }: MeterData['ambient'], celsius: DecimalText): Big {
  const value = new Big(celsius);
  if (value.lt(lowest)) return new Big(lowest).minus(value);
  return value.gt(highest) ? value.minus(highest) : NONE;
}
