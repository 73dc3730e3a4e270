import { join } from 'node:path';
import * as z from 'zod';
import { type MeterData, meterData } from '../../core/accuracy/meterData.ts';
import type { MeterFacts } from '../../core/inspection/event.ts';
import { NOT_TOLD } from '../../instruments/meter/identity.ts';
import { changeJsonFile, readJsonFile } from './jsonFile.ts';

/** Accuracy and calibration of each meter that was entered, by what it is known by. */
const knownMeters = z.record(z.string(), meterData);

const fileIn = (folder: string): string => join(folder, 'meters.json');

export interface Known {
  identity: Pick<MeterFacts['identity'], 'text'>;
  address: string;
}

/** The text with which it says who it is. All that cannot say would be one meter, so those are known by where they are. */
function nameOf({ identity: { text }, address }: Known): string {
  return text === NOT_TOLD ? `${NOT_TOLD}, at ${address}` : text;
}

/** What is known of a meter; null where nobody entered anything. */
export async function dataOfMeter(folder: string, meter: Known): Promise<MeterData | null> {
  const known = await readJsonFile(fileIn(folder), knownMeters, {});
  const name = nameOf(meter);
  return Object.hasOwn(known, name) ? (known[name] ?? null) : null;
}

/** Keeps what was entered for a meter, in place of what was known of it. */
export function keepMeterData(folder: string, meter: Known, data: MeterData): Promise<void> {
  return changeJsonFile(fileIn(folder), knownMeters, {}, (known) => ({ ...known, [nameOf(meter)]: data }));
}
