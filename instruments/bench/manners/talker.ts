import type { Duplex } from 'node:stream';
import { setTimeout as wait } from 'node:timers/promises';
import { type Acquired, valueText } from '../acquired.ts';
import type { Bench } from '../bench.ts';
import { FUNCTIONS } from '../functions.ts';
import type { Manner } from '../manner.ts';
import { OVERLOAD } from '../meterModel.ts';
import type { Place } from '../place.ts';
import type { BenchScenario } from '../scenario.ts';
import { plain } from './plain.ts';

/**
 * Takes no commands and sends its readings unasked, as handheld meters with a data output do (common practice): about
 * five a second, `+4.70213E+03 OHM` and CR LF, `OL` for overload. Its hands are the scenario's schedule, or whoever
 * holds the `Bench`.
 */
export const talker: Manner = {
  ...plain,
  commands: [],
  usualCycles: 1,
  readingText: (acquired) =>
    acquired.value === OVERLOAD ? 'OL' : `${valueText(acquired)} ${FUNCTIONS[acquired.function].unit}`,
  serve: talk,
};

async function talk(duplex: Duplex, bench: Bench): Promise<void> {
  const { pauseMilliseconds, schedule } = bench.scenario.meter.talker;
  const over = new AbortController();
  for (const end of ['end', 'close', 'error']) duplex.once(end, () => over.abort());
  duplex.resume();
  const places = placesOf(schedule);
  while (!over.signal.aborted) {
    const { value: place } = places.next();
    if (place) bench.place(place);
    const acquired: Acquired = await bench.read();
    if (over.signal.aborted) break;
    // It knows no handshake: what the line does not take is gone.
    if (!duplex.writableNeedDrain) duplex.write(`${talker.readingText(acquired)}\r\n`, 'latin1');
    await wait(pauseMilliseconds, undefined, { signal: over.signal }).catch(() => undefined);
    if (bench.scenario.meter.pace === 'none') await bench.clock.wait(pauseMilliseconds);
  }
}

type Schedule = BenchScenario['meter']['talker']['schedule'];

/** Where the probes are put before each reading, null where they stay, without end; nothing at all for an empty schedule. */
function* placesOf(schedule: Schedule): Generator<Place | null, undefined> {
  let next = 1;
  while (schedule.length > 0) {
    for (const { place, readings } of schedule) {
      const where = place === 'NEXT' ? next++ : place;
      yield where;
      for (let count = 1; count < readings; count++) yield null;
    }
  }
  return undefined;
}
