import { join } from 'node:path';
import type { Entry } from '../../../core/contract/contract.ts';
import { openRecord } from '../../../main/record/record.ts';
import { isOfInspection } from '../../../main/station/foldOne.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation } from '../../openedStation.ts';
import { BY, readyBench } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

/**
 * A record as a station makes it: one run that is decided after a reading was voided, one on hold, one received only, and then a
 * certificate of the first, so that its entries stand in two places.
 */
export async function measuredRecord(readings = 8): Promise<{ folder: string; file: string; entries: Entry[] }> {
  const folder = temporaryFolder();
  const station = openedStation(folder);
  const { run } = await station.ask('receive-lot', {
    claim: exampleLot({ sampleSize: readings, accept: readings - 1 }),
  });
  await readyBench(station, run);
  for (let reading = 0; reading < readings; reading++) await station.ask('take-reading', { run });
  await station.ask('void-reading', { run, reading: 2, by: BY, reason: 'slipped' });
  await station.ask('take-reading', { run });
  await readyBench(station, run);
  await station.ask('decide-lot', { run, disposition: 'accepted', by: BY, reason: 'as the plan says' });
  const second = await station.ask('receive-lot', { claim: exampleLot() });
  await station.ask('decide-lot', { ...second, disposition: 'on-hold', by: BY, reason: 'the label is missing' });
  await station.ask('receive-lot', { claim: exampleLot() });
  await station.ask('write-certificate', { run });
  await station.close();
  const record = openRecord(folder);
  const entries = [...record.entries()].filter(isOfInspection);
  record.close();
  return { folder, file: join(folder, 'reelohm.sqlite'), entries };
}
