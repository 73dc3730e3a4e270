import { readFile } from 'node:fs/promises';
import { fingerprintOf } from '../../core/certificate/signature.ts';
import { checked } from '../../core/contract/invalid.ts';
import { namedText } from '../../core/inspection/text.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { readKnownKeys, trustKey } from '../certificates/knownKeys.ts';
import { openStationKey, publicKeyInPem } from '../certificates/stationKey.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { exitStatus } from './exitStatus.ts';
import { tame } from './tame.ts';

export interface KeyOptions {
  /** File of a public key that is to be known here. */
  trust?: string;
  /** Whose it is. */
  as?: string;
  data?: string;
  json?: boolean;
}

/** Prints the key this station signs by and those that are known here, or adds one to them. */
export async function key({ trust, as, data, json = false }: KeyOptions): Promise<number> {
  const folder = dataFolders(data).data;
  if (trust !== undefined) return addKey(folder, trust, as, json);
  if (as !== undefined) throw problem('input-invalid', '--as', 'it names a key, which --trust gives');
  const { fingerprint, publicKey, publicPem, publicFile } = openStationKey(folder);
  const known = (await readKnownKeys(folder)).map((one) => ({ ...one, fingerprint: fingerprintOf(one.publicKey) }));
  if (json) console.log(JSON.stringify({ type: 'key', fingerprint, publicKey, publicPem, publicFile, known }));
  else {
    console.log(publicPem.trimEnd());
    console.log(`Fingerprint (SHA-256): ${fingerprint}`);
    console.log(`To be handed out: ${publicFile}`);
    for (const { name, fingerprint: of } of known) console.log(`Known here: "${tame(name)}" ${of}`);
  }
  return exitStatus.good;
}

async function addKey(folder: string, file: string, as: string | undefined, json: boolean): Promise<number> {
  if (as === undefined) throw problem('input-invalid', '--as', 'a key that is to be known needs a name');
  const name = checked('--as', namedText, as);
  const pem = await readFile(file).catch((thrown: unknown) => {
    throw problem('file-unreadable', file, wordsOf(thrown));
  });
  const publicKey = pem.includes('PRIVATE') ? null : publicKeyInPem(pem);
  if (publicKey === null) throw problem('key-unreadable', file);
  await trustKey(folder, { name, publicKey });
  const fingerprint = fingerprintOf(publicKey);
  if (json) console.log(JSON.stringify({ type: 'key-known', name, fingerprint, publicKey }));
  else console.log(`Known here as "${tame(name)}": ${fingerprint}. Compare the fingerprint with its owner.`);
  return exitStatus.good;
}
