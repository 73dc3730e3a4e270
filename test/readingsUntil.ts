import type { Station } from '../main/station/station.ts';
import { checkBench } from './readyBench.ts';

/** Takes readings of a run one after the other, with the checks that come due, until something is done; how many they were. */
export async function readingsUntil(station: Station, run: number, done: Promise<unknown>): Promise<number> {
  let isDone = false;
  void done.finally(() => {
    isDone = true;
  });
  let readings = 0;
  while (!isDone) {
    await station.ask('take-reading', { run });
    readings++;
    if (readings % 50 === 0) await checkBench(station, run);
  }
  return readings;
}
