import { createHash, createPublicKey, verify } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fingerprintOf,
  isSignedBy,
  keyText,
  publicKeyIn,
  publicKeyInfo,
  publicKeyOfInfo,
  signedMessage,
} from '../../../core/certificate/signature.ts';
import { FORGER, SIGNER } from '../../signer.ts';
import { acceptedRun, bytesOf, certificateBytes, refusal, rowsOfFile } from './files.ts';

// RFC 8032, 7.1: public key, message, signature.
const RFC_8032_TESTS = [
  [
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    '',
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  ],
  [
    '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    '72',
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  ],
  [
    'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
    'af82',
    '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
  ],
] as const;

describe('a signature', () => {
  it.each(RFC_8032_TESTS)('is taken as RFC 8032, 7.1 has it: key %s', (key, message, signature) => {
    expect(isSignedBy(key, Buffer.from(message, 'hex'), signature)).toBe(true);
    expect(isSignedBy(key, Buffer.from(`${message}00`, 'hex'), signature)).toBe(false);
  });

  it('of Node is taken, and none with any bit changed, of another message or by another key (property)', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 100 }), fc.nat(511), (message, bit) => {
        const signature = Buffer.from(SIGNER.sign(message));
        expect(isSignedBy(SIGNER.publicKey, message, signature.toString('hex'))).toBe(true);
        expect(isSignedBy(FORGER.publicKey, message, signature.toString('hex'))).toBe(false);
        signature[bit >> 3] = (signature[bit >> 3] ?? 0) ^ (1 << (bit & 7));
        expect(isSignedBy(SIGNER.publicKey, message, signature.toString('hex'))).toBe(false);
      }),
      { numRuns: 30 },
    );
  });

  it('with s beyond the order of the group is refused (RFC 8032, 5.1.7: s must be in its range)', () => {
    const [key, message, signature] = RFC_8032_TESTS[1];
    const order = 2n ** 252n + 27742317777372353535851937790883648493n;
    const s = BigInt(`0x${Buffer.from(signature.slice(64), 'hex').reverse().toString('hex')}`) + order;
    const beyond = Buffer.from(s.toString(16).padStart(64, '0'), 'hex').reverse().toString('hex');
    expect(isSignedBy(key, Buffer.from(message, 'hex'), signature.slice(0, 64) + beyond)).toBe(false);
  });

  it('is of a message that names the format', () => {
    expect(new TextDecoder().decode(signedMessage('Reelohm certificate 5', 'ab'))).toBe(
      'Reelohm signature 1\nReelohm certificate 5\nab\n',
    );
  });

  it('by a key that is no point is none', () => {
    expect(isSignedBy('ff'.repeat(32), new Uint8Array(), 'ab'.repeat(64))).toBe(false);
  });
});

describe('a public key', () => {
  it('has the fingerprint of its SubjectPublicKeyInfo, as Node exports that', () => {
    const info = createPublicKey({ key: Buffer.from(publicKeyInfo(SIGNER.publicKey)), format: 'der', type: 'spki' });
    const der = info.export({ type: 'spki', format: 'der' });
    expect(fingerprintOf(SIGNER.publicKey)).toBe(createHash('sha256').update(der).digest('hex'));
    expect(publicKeyOfInfo(der)).toBe(SIGNER.publicKey);
    expect(publicKeyOfInfo(der.subarray(1))).toBeNull();
  });

  it('is read back from a file by its fingerprint only', () => {
    expect(publicKeyIn(keyText(SIGNER.publicKey))).toBe(SIGNER.publicKey);
    expect(publicKeyIn(keyText(SIGNER.publicKey).replace(SIGNER.publicKey, FORGER.publicKey))).toBeNull();
    for (const text of ['', SIGNER.publicKey, 'ed25519']) expect(publicKeyIn(text)).toBeNull();
  });
});

describe('the signature of a certificate', () => {
  const bytes = certificateBytes(acceptedRun());
  const rows = rowsOfFile(new TextDecoder().decode(bytes));

  it('is checked by another program with nothing but the file', () => {
    const [, , digest = ''] = rows.at(-2) ?? [];
    const [, , signature = ''] = rows.at(-1) ?? [];
    const [fingerprint, kind, key = ''] =
      rows.find(([row, item]) => row === 'certificate' && item === 'key')?.[2]?.split(' ') ?? [];
    const publicKey = createPublicKey({
      key: Buffer.from(`302a300506032b6570032100${key}`, 'hex'),
      format: 'der',
      type: 'spki',
    });
    const message = `Reelohm signature 1\nReelohm certificate 5\n${digest}\n`;
    expect([kind, fingerprint]).toEqual(['ed25519', fingerprintOf(key)]);
    expect(verify(null, Buffer.from(message), publicKey, Buffer.from(signature, 'hex'))).toBe(true);
  });

  it('must be there, and be the last row', () => {
    const text = new TextDecoder().decode(bytes);
    const [digestAt, signatureAt] = [text.lastIndexOf('digest,'), text.lastIndexOf('signature,')];
    expect(refusal(bytesOf(text.slice(0, signatureAt)))).toContain('at the signature: the file ends with its digest');
    const swapped = text.slice(0, digestAt) + text.slice(signatureAt) + text.slice(digestAt, signatureAt);
    expect(refusal(bytesOf(swapped))).toMatch(/the digest/);
    expect(refusal(bytesOf(text + text.slice(signatureAt)))).toMatch(/the digest/);
  });

  it('must be of this very file', () => {
    const text = new TextDecoder().decode(bytes);
    const [, , signature = ''] = rows.at(-1) ?? [];
    for (const other of ['0'.repeat(128), Buffer.from(FORGER.sign(Buffer.from('x'))).toString('hex')]) {
      expect(refusal(bytesOf(text.replace(signature, other)))).toContain(
        'at the signature: it was not made by the key',
      );
    }
  });
});
