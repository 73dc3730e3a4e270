import { expect, it } from 'vitest';
import { sha256Anywhere } from '../../../core/certificate/sha256.ts';
import { sha256OfNode } from '../../../main/certificates/sha256OfNode.ts';

it.each([
  ['by core', sha256Anywhere],
  ['by Node', sha256OfNode],
])('SHA-256 %s is that of FIPS 180-4, piece by piece and gone on from a copy', (_, begin) => {
  const bytes = (text: string) => new TextEncoder().encode(text);
  const hash = begin();
  hash.update(bytes('a'));
  const copy = hash.copy();
  hash.update(bytes('bc'));
  // The example of one block, "abc" (NIST, Cryptographic Standards and Guidelines, examples with intermediate values).
  expect(hash.hex()).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  copy.update(bytes('bc'));
  expect(copy.hex()).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
});
