import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type Bench, failed, type Judged, passed } from './bench.ts';
import type { Found } from './check.ts';

/** The ambient temperature, read by the meter or typed, inside the band of the lot; both limits belong to it. */
export function judgeAmbient({ checks: { ambientCelsius } }: Bench, found: readonly Found[]): Judged {
  const [temperature, ...more] = found.filter(({ unit }) => unit === 'celsius');
  if (!temperature || more.length > 0) throw problem('check-incomplete', 'ambient', 'one ambient temperature');
  const { lowest, highest } = ambientCelsius;
  const { value, what } = temperature;
  if (value === null) return failed('the meter does not read the temperature', 'Check its sensor, or type it');
  const band = `${lowest} °C to ${highest} °C`;
  const celsius = new Big(value);
  if (celsius.lt(lowest) || celsius.gt(highest)) {
    return failed(`${value} °C is outside ${band}`, 'Wait until the room, the meter and the pieces are inside it');
  }
  return passed(`${value} °C, ${what === 'temperature' ? 'read by the meter' : 'typed'}; inside ${band}`);
}
