import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { reprintOf } from '../../../core/certificate/rowsOf.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { SIGNER } from '../../signer.ts';
import { timeAt, walk } from '../inspection/walk.ts';
import { ABOUT, acceptedRun, bytesOf, forged, refusal, rowsOfFile, set } from './files.ts';

const FIRST = 'a'.repeat(64);
const SECOND = 'b'.repeat(64);

describe('a certificate that is written once more', () => {
  const run = acceptedRun();
  const once = walk(run, { type: 'note-certificate', file: 'one.csv', sha256: FIRST });
  const twice = walk(once, { type: 'note-certificate', file: 'two.csv', sha256: SECOND });

  it('is a reprint, numbered, after the one before it; the first is none', () => {
    expect(reprintOf(run, timeAt(99))).toBeNull();
    expect(reprintOf(once, timeAt(99))).toEqual({ copy: 2, after: FIRST, at: timeAt(99) });
    expect(reprintOf(twice, timeAt(99))).toEqual({ copy: 3, after: SECOND, at: timeAt(99) });
  });

  it('is none where the one before was of a hold that was lifted since', () => {
    const decided = { ...once, decided: once.decided && { ...once.decided, at: timeAt(3600) } };
    expect(reprintOf(decided, timeAt(3700))).toBeNull();
  });

  const reprint = reprintOf(once, timeAt(99));
  const text = certificateOf(run, { ...ABOUT, reprint }, SIGNER);

  it('says so in a row, and verification does', () => {
    const { row, ...rest } = { row: rowsOfFile(text).find(([, item]) => item === 'reprint'), reprint };
    expect(row).toEqual(expect.arrayContaining(['certificate', 'reprint', FIRST, '2', timeAt(99)]));
    expect(verifyCertificate(bytesOf(text))).toMatchObject(rest);
    expect(verifyCertificate(bytesOf(certificateOf(run, ABOUT, SIGNER))).reprint).toBeNull();
  });

  it.each([
    ['number', '1'],
    ['number', ''],
    ['number', '2.5'],
    ['text', 'the first'],
    ['at', 'yesterday'],
  ])('is refused with its %s "%s"', (column, value) => {
    const rows = rowsOfFile(text).slice(0, -2);
    const number = set(rows, 'certificate', 'reprint', column, value);
    expect(refusal(forged(rows))).toContain(`row ${number}: `);
  });
});
