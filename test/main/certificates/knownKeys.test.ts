import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { keysIn, readKnownKeys, trustKey } from '../../../main/certificates/knownKeys.ts';
import { openStationKey } from '../../../main/certificates/stationKey.ts';
import { problemOf } from '../../openedStation.ts';
import { FORGER, SIGNER } from '../../signer.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

it('a key is this station’s own, known by its name, or not known', async () => {
  const folder = temporaryFolder();
  expect((await keysIn(folder))(SIGNER.publicKey)).toMatchObject({ who: 'not-known', name: null });
  const own = openStationKey(folder);
  await trustKey(folder, { name: 'Works 2', publicKey: SIGNER.publicKey });
  const whoseKey = await keysIn(folder);
  expect(whoseKey(own.publicKey)).toMatchObject({ who: 'this-station', fingerprint: own.fingerprint });
  expect(whoseKey(SIGNER.publicKey)).toMatchObject({ who: 'known', name: 'Works 2' });
  expect(whoseKey(FORGER.publicKey)).toMatchObject({ who: 'not-known' });
});

it('a key of the station that cannot be read is said to be so', async () => {
  const folder = temporaryFolder();
  const { publicFile } = openStationKey(folder);
  rmSync(publicFile);
  mkdirSync(publicFile);
  expect(await problemOf(keysIn(folder))).toBe('file-unreadable');
});

it('names and keys are known once', async () => {
  const folder = temporaryFolder();
  await trustKey(folder, { name: 'A', publicKey: SIGNER.publicKey });
  expect(await problemOf(trustKey(folder, { name: 'B', publicKey: SIGNER.publicKey }))).toBe('key-known-already');
  expect(await problemOf(trustKey(folder, { name: 'A', publicKey: FORGER.publicKey }))).toBe('key-known-already');
  expect((await readKnownKeys(folder)).map(({ name }) => name)).toEqual(['A']);
});

it.each([
  ['no list', {}],
  ['no key', [{ name: 'A', publicKey: 'ab', since: '2026-11-27T10:00:00Z' }]],
  ['no name', [{ name: '', publicKey: SIGNER.publicKey, since: '2026-11-27T10:00:00Z' }]],
  ['more than a key', [{ name: 'A', publicKey: SIGNER.publicKey, since: '2026-11-27T10:00:00Z', private: 'x' }]],
])('a file of known keys with %s is refused, naming it', async (_, content) => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'known-keys.json'), JSON.stringify(content));
  expect(await problemOf(readKnownKeys(folder))).toBe('input-invalid');
});
