import { resolve } from 'node:path';
import { type ClosedFormat, signed, type Unsigned } from '../../core/certificate/closedFile.ts';
import { checked } from '../../core/contract/invalid.ts';
import { namedText } from '../../core/inspection/text.ts';
import { problem } from '../../core/problem/problem.ts';
import { openStationKey } from '../certificates/stationKey.ts';
import type { Written } from '../certificates/writeUnderFreeName.ts';
import { writeWhole } from '../certificates/writeWhole.ts';
import { now } from '../station/clock.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { VERSION } from '../version.ts';

export interface OutOptions {
  /** File the result is written to. */
  out?: string;
  /** Who made it; stands in the file. */
  by?: string;
  /** Folder with the key it is signed by. */
  data?: string;
}

/** Who makes a file, by which program, when, and the key it is signed by. */
export interface MadeBy {
  by: string;
  version: string;
  publicKey: string;
  at: string;
}

/**
 * Writes a result, signed by the key of the station, where one is wanted; null where not.
 * @param fileBy the file, made by this person
 * @throws problem input-invalid where nobody is named, those of openStationKey and of writeWhole
 */
export async function writeOut(
  { out, by, data }: OutOptions,
  format: ClosedFormat,
  fileBy: (made: MadeBy) => Unsigned,
): Promise<Written | null> {
  if (out === undefined) return null;
  if (by === undefined) throw problem('input-invalid', '--by', 'a result that is written must say who made it');
  const file = resolve(out);
  const name = checked('--by', namedText, by);
  const signer = openStationKey(dataFolders(data).data);
  const made = fileBy({ by: name, version: VERSION, publicKey: signer.publicKey, at: now() });
  return { file, sha256: await writeWhole(file, Buffer.from(signed(made, format, signer))) };
}
