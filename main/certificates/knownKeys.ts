import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as z from 'zod';
import { fingerprintOf, isPublicKey } from '../../core/certificate/signature.ts';
import { namedText } from '../../core/inspection/text.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';
import { now } from '../station/clock.ts';
import { changeJsonFile, readJsonFile } from '../station/jsonFile.ts';
import { publicKeyFile, publicKeyInPem } from './stationKey.ts';

const knownKey = z.strictObject({
  /** Whose it is. */
  name: namedText,
  publicKey: z.string().refine(isPublicKey, 'expected 64 characters of lower-case hex'),
  /** Since when it is known here. */
  since: z.iso.datetime({ offset: true }),
});
const knownKeys = z.array(knownKey);

/** Somebody's public key that is known here. */
export type KnownKey = z.infer<typeof knownKey>;

/** Who signed a file, as far as it is known here. */
export interface SignedBy {
  who: 'this-station' | 'known' | 'not-known';
  /** Whose the key is; null where it is not a known one. */
  name: string | null;
  fingerprint: string;
  publicKey: string;
}

/** The keys that are known in this data folder. @throws problems of readJsonFile */
export function readKnownKeys(dataFolder: string): Promise<KnownKey[]> {
  return readJsonFile(fileIn(dataFolder), knownKeys, []);
}

/**
 * Adds somebody's public key to those that are known.
 * @throws problems key-known-already, and those of changeJsonFile
 */
export async function trustKey(
  dataFolder: string,
  { name, publicKey }: Pick<KnownKey, 'name' | 'publicKey'>,
): Promise<void> {
  await changeJsonFile(fileIn(dataFolder), knownKeys, [], (known) => {
    const same = known.find((one) => one.publicKey === publicKey || one.name === name);
    if (same) throw problem('key-known-already', same.name, fingerprintOf(same.publicKey));
    return [...known, { name, publicKey, since: now() }];
  });
}

/** Says whose a public key is, by the station and the list of a data folder. @throws problems file-unreadable, input-invalid */
export async function keysIn(dataFolder: string): Promise<(publicKey: string) => SignedBy> {
  const [own, all] = [await ownKey(dataFolder), await readKnownKeys(dataFolder)];
  return (publicKey) => {
    const facts = { fingerprint: fingerprintOf(publicKey), publicKey };
    if (own === publicKey) return { who: 'this-station', name: null, ...facts };
    const known = all.find((one) => one.publicKey === publicKey);
    return known ? { who: 'known', name: known.name, ...facts } : { who: 'not-known', name: null, ...facts };
  };
}

/** The public key of the station of a data folder; null where there is none, since who only verifies needs none. */
async function ownKey(dataFolder: string): Promise<string | null> {
  const file = publicKeyFile(dataFolder);
  try {
    return publicKeyInPem(await readFile(file));
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return null;
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}

function fileIn(dataFolder: string): string {
  return join(dataFolder, 'known-keys.json');
}
