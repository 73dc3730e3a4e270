import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { openStationKey } from '../../../main/certificates/stationKey.ts';
import { key } from '../../../main/command/key.ts';
import { verify } from '../../../main/command/verify.ts';
import { ABOUT, acceptedRun, commaText, forged, openRows, set } from '../../core/certificate/files.ts';
import { problemOf } from '../../openedStation.ts';
import { FORGER, SIGNER } from '../../signer.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

/** Lines that are printed from here to the end of the test. */
function printed(): string[] {
  const lines: string[] = [];
  for (const name of ['log', 'error'] as const) {
    const spy = vi.spyOn(console, name).mockImplementation((line: string) => void lines.push(line));
    onTestFinished(() => spy.mockRestore());
  }
  return lines;
}

function fileWith(content: string | Uint8Array, name = 'c.csv'): { folder: string; file: string } {
  const folder = temporaryFolder();
  const file = join(folder, name);
  writeFileSync(file, content);
  return { folder, file };
}

describe('verify says of a certificate', () => {
  it('nothing at all where the list of known keys cannot be read: that is no fault of the file', async () => {
    const lines = printed();
    const { folder, file } = fileWith(certificateOf(acceptedRun(), ABOUT, SIGNER));
    writeFileSync(join(folder, 'known-keys.json'), '[');
    expect(await problemOf(verify([file], { json: true, data: folder }))).toBe('file-unreadable');
    expect(lines).toEqual([]);
  });

  it('who signed it: a key that is not known here, then a known one, then this station', async () => {
    const lines = printed();
    const { folder, file } = fileWith(certificateOf(acceptedRun(), ABOUT, SIGNER));
    expect(await verify([file], { json: true, data: folder })).toBe(0);
    const publicFile = join(folder, 'theirs.pem');
    const info = Buffer.from(`302a300506032b6570032100${SIGNER.publicKey}`, 'hex').toString('base64');
    writeFileSync(publicFile, `-----BEGIN PUBLIC KEY-----\n${info}\n-----END PUBLIC KEY-----\n`);
    expect(await key({ trust: publicFile, as: 'Works 2', data: folder, json: true })).toBe(0);
    expect(await verify([file], { json: true, data: folder })).toBe(0);
    writeFileSync(file, certificateOf(acceptedRun(), ABOUT, openStationKey(folder)));
    expect(await verify([file], { json: true, data: folder })).toBe(0);
    const [unknown, , known, own] = lines.map((line) => JSON.parse(line));
    expect(unknown).toMatchObject({
      intact: true,
      form: 'dot',
      reprint: null,
      signedBy: { who: 'not-known', name: null },
    });
    expect(known.signedBy).toMatchObject({ who: 'known', name: 'Works 2', publicKey: SIGNER.publicKey });
    expect(own.signedBy.who).toBe('this-station');
  });

  it('where it was altered: row and column', async () => {
    const lines = printed();
    const text = certificateOf(acceptedRun(), ABOUT, SIGNER);
    const { folder, file } = fileWith(text.replace(',4702.13,', ',4702.14,'));
    expect(await verify([file], { json: true, data: folder })).toBe(1);
    const row = text.split('\r\n').findIndex((line) => line.startsWith('reading,1,')) + 1;
    expect(JSON.parse(lines[0] ?? '')).toMatchObject({
      intact: false,
      row,
      column: 'ohms',
      problem: { code: 'certificate-broken', what: expect.stringContaining(`the digest: `) },
    });
  });

  it('that a forger had not the key, though every figure follows', async () => {
    const lines = printed();
    const rows = openRows(acceptedRun());
    set(rows, 'disposition', 'by', 'text', 'Somebody Else');
    const { folder, file } = fileWith(forged(rows, FORGER));
    expect(await verify([file], { data: folder })).toBe(1);
    expect(lines.join()).toContain('does not hold at the signature: it was not made by the key that the file names');
  });

  it('that it is written with a decimal comma, and that another copy was before it', async () => {
    const lines = printed();
    const { folder, file } = fileWith(commaText(acceptedRun()));
    const reprint = { copy: 3, after: 'ab'.repeat(32), at: '2026-11-27T10:00:00+01:00' };
    writeFileSync(join(folder, 'again.csv'), certificateOf(acceptedRun(), { ...ABOUT, reprint }, SIGNER));
    expect(await verify([file, join(folder, 'again.csv')], { data: folder })).toBe(0);
    expect(lines.filter((line) => line.includes('intact.')).join('\n')).toMatch(
      /decimal comma[\s\S]*reprint, copy 3 of 2026-11-27T10:00:00\+01:00/,
    );
  });
});

describe('key', () => {
  it('prints the public half and its fingerprint, never the private one', async () => {
    const lines = printed();
    const folder = temporaryFolder();
    expect(await key({ data: folder })).toBe(0);
    const { publicPem, fingerprint } = openStationKey(folder);
    const said = lines.join('\n');
    expect(said).toContain(publicPem.trimEnd());
    expect(said).toContain(fingerprint);
    expect(said).not.toContain('PRIVATE');
    expect(said).not.toContain(readFileSync(join(folder, 'keys', 'station-key.pem'), 'utf8').split('\n')[1]);
  });

  it('takes a public key with a name only', async () => {
    const folder = temporaryFolder();
    const { publicFile } = openStationKey(folder);
    expect(await problemOf(key({ trust: publicFile, data: folder }))).toBe('input-invalid');
    expect(await problemOf(key({ as: 'A', data: folder }))).toBe('input-invalid');
    expect(await problemOf(key({ trust: join(folder, 'none.pem'), as: 'A', data: folder }))).toBe('file-unreadable');
    const privateFile = join(folder, 'keys', 'station-key.pem');
    expect(await problemOf(key({ trust: privateFile, as: 'A', data: folder }))).toBe('key-unreadable');
  });
});
