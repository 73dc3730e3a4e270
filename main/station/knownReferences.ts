import { join } from 'node:path';
import * as z from 'zod';
import { type ReferenceFacts, referenceFacts } from '../../core/readiness/check.ts';
import { changeJsonFile, readJsonFile } from './jsonFile.ts';

const knownReferences = z.array(referenceFacts);

const fileIn = (folder: string): string => join(folder, 'references.json');

/** The reference resistors that were entered, by name. */
export function readReferences(folder: string): Promise<ReferenceFacts[]> {
  return readJsonFile(fileIn(folder), knownReferences, []);
}

/** Keeps a reference resistor, in place of one of the same name. */
export function keepReference(folder: string, reference: ReferenceFacts): Promise<void> {
  return changeJsonFile(fileIn(folder), knownReferences, [], (known) =>
    [...known.filter(({ name }) => name !== reference.name), reference].sort((a, b) => a.name.localeCompare(b.name)),
  );
}
