import { join } from 'node:path';
import * as z from 'zod';
import { type MeterData, meterData } from '../../core/accuracy/meterData.ts';
import { readJsonFile, writeJsonFile } from './jsonFile.ts';

/** Accuracy and calibration of each meter that was entered, by the text with which it says who it is. */
const knownMeters = z.record(z.string(), meterData);

const fileIn = (folder: string): string => join(folder, 'meters.json');

/** What is known of the meter that says it is this one; null where nobody entered anything. */
export async function dataOfMeter(folder: string, identity: string): Promise<MeterData | null> {
  const known = await readJsonFile(fileIn(folder), knownMeters, {});
  return Object.hasOwn(known, identity) ? (known[identity] ?? null) : null;
}

/** Keeps what was entered for a meter, in place of what was known of it. */
export async function keepMeterData(folder: string, identity: string, data: MeterData): Promise<void> {
  // A file that cannot be read is not overwritten.
  const known = await readJsonFile(fileIn(folder), knownMeters, {});
  await writeJsonFile(fileIn(folder), { ...known, [identity]: data });
}
