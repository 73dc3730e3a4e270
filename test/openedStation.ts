import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { Problem } from '../core/problem/problem.ts';
import { openRecord } from '../main/record/record.ts';
import { openStation, type Station } from '../main/station/station.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** A station in a folder of its own, closed when the test is over. @param clock by which readings follow each other */
export function openedStation(
  folder = temporaryFolder(),
  record = openRecord(folder),
  clock = () => performance.now(),
): Station {
  const folders = { data: folder, certificates: join(folder, 'certificates') };
  const station = openStation({ folders, version: 'test', record, clock });
  onTestFinished(() => station.close().catch(() => undefined));
  return station;
}

/** The code of the problem that something ends with. */
export async function problemOf(asked: Promise<unknown>): Promise<string> {
  try {
    await asked;
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown.code;
    throw thrown;
  }
  return 'no problem';
}
