import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CERTIFICATE } from '../../../core/certificate/certificateFormat.ts';
import { closingOf, digestsOf } from '../../../core/certificate/closedFile.ts';
import { inMemory } from '../../../core/certificate/fileBytes.ts';
import { acceptedRun, bytesOf, certificateBytes, refusal } from './files.ts';

const MANY = { timeout: 60_000 };

describe('a file that is not the one that was written', () => {
  const bytes = certificateBytes(acceptedRun());
  const written = closingOf(inMemory(bytes), CERTIFICATE, 'dot');

  /** Whether digest and signature still say what they said of what stands before them; cheap, for tens of thousands of files. */
  function seemsWhole(changed: Uint8Array): boolean {
    const file = inMemory(changed);
    const closing = closingOf(file, CERTIFICATE, 'dot');
    if (closing === null || closing.signature !== written?.signature) return false;
    return digestsOf(file, closing.bodySize).body === closing.digest;
  }

  it('is told by its digest or signature for any one byte changed: every byte, each of its bits', MANY, () => {
    expect(seemsWhole(bytes)).toBe(true);
    for (let place = 0; place < bytes.length; place += 1) {
      for (let bit = 0; bit < 8; bit += 1) {
        const changed = bytes.slice();
        changed[place] = (changed[place] ?? 0) ^ (1 << bit);
        if (seemsWhole(changed)) throw new Error(`byte ${place}, bit ${bit}`);
      }
    }
  });

  it('is told so for any one byte removed: every byte', MANY, () => {
    for (let place = 0; place < bytes.length; place += 1) {
      const shorter = new Uint8Array([...bytes.subarray(0, place), ...bytes.subarray(place + 1)]);
      if (seemsWhole(shorter)) throw new Error(`byte ${place}`);
    }
  });

  it('is refused, naming digest or signature, for any one byte changed or added (property)', MANY, () => {
    fc.assert(
      fc.property(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), (place, by) => {
        const changed = bytes.slice();
        changed[place] = ((changed[place] ?? 0) + by) % 256;
        expect(refusal(changed)).toMatch(/the (digest|signature)/);
        const longer = new Uint8Array([...bytes.subarray(0, place), by, ...bytes.subarray(place)]);
        expect(refusal(longer)).toMatch(/the (digest|signature)/);
      }),
      { numRuns: 60 },
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
