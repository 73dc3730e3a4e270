import { join } from 'node:path';
import * as z from 'zod';
import { type ReferenceFacts, referenceFacts } from '../../core/readiness/check.ts';
import { readJsonFile, writeJsonFile } from './jsonFile.ts';

const knownReferences = z.array(referenceFacts);

const fileIn = (folder: string): string => join(folder, 'references.json');

/** The reference resistors that were entered, by name. */
export function readReferences(folder: string): Promise<ReferenceFacts[]> {
  return readJsonFile(fileIn(folder), knownReferences, []);
}

/** Keeps a reference resistor, in place of one of the same name. */
export async function keepReference(folder: string, reference: ReferenceFacts): Promise<void> {
  // A file that cannot be read is not overwritten.
  const others = (await readReferences(folder)).filter(({ name }) => name !== reference.name);
  await writeJsonFile(
    fileIn(folder),
    [...others, reference].sort((a, b) => a.name.localeCompare(b.name)),
  );
}
