import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acceptedRun, bytesOf, certificateBytes, refusal } from './files.ts';

/** As a fault of the digest. Cheaper than `expect`, for tens of thousands of files. */
function mustFailTheDigest(bytes: Uint8Array): void {
  const said = refusal(bytes);
  if (!said.includes('the digest')) throw new Error(said);
}

const MANY = { timeout: 60_000 };

describe('a file that is not the one that was written', () => {
  const bytes = certificateBytes(acceptedRun());

  it('is refused for any one byte changed: every byte, each of its bits', MANY, () => {
    for (let place = 0; place < bytes.length; place += 1) {
      for (let bit = 0; bit < 8; bit += 1) {
        const changed = bytes.slice();
        changed[place] = (changed[place] ?? 0) ^ (1 << bit);
        mustFailTheDigest(changed);
      }
    }
  });

  it('is refused for any one byte changed to any other (property)', MANY, () => {
    fc.assert(
      fc.property(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), (place, by) => {
        const changed = bytes.slice();
        changed[place] = ((changed[place] ?? 0) + by) % 256;
        mustFailTheDigest(changed);
      }),
      { numRuns: 500 },
    );
  });

  it('is refused for any one byte removed: every byte', MANY, () => {
    for (let place = 0; place < bytes.length; place += 1) {
      const shorter = new Uint8Array([...bytes.subarray(0, place), ...bytes.subarray(place + 1)]);
      mustFailTheDigest(shorter);
    }
  });

  it('is refused for any one byte added anywhere (property)', MANY, () => {
    fc.assert(
      fc.property(fc.nat(bytes.length), fc.nat(255), (place, byte) => {
        const longer = new Uint8Array([...bytes.subarray(0, place), byte, ...bytes.subarray(place)]);
        mustFailTheDigest(longer);
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    ['a byte order mark', (text: string) => `\uFEFF${text}`],
    ['line ends of another system', (text: string) => text.replaceAll('\r\n', '\n')],
    ['no last line end', (text: string) => text.slice(0, -2)],
    ['an empty line more', (text: string) => `${text}\r\n`],
    ['upper-case hex', (text: string) => text.replace(/[0-9a-f]{64}/, (hex) => hex.toUpperCase())],
    ['a second digest row', (text: string) => text + text.slice(text.lastIndexOf('digest,'))],
    ['no digest row', (text: string) => text.slice(0, text.lastIndexOf('digest,'))],
    ['nothing in it', () => ''],
    ['something else in it', () => 'a,b,c\r\n1,2,3\r\n'],
  ])('is refused with %s', (_, change) => {
    expect(refusal(bytesOf(change(new TextDecoder().decode(bytes))))).toContain('the digest');
  });
});
