import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { COLUMNS, NUMERIC_COLUMNS } from '../../../core/certificate/format.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { SIGNER } from '../../signer.ts';
import { ABOUT, acceptedRun, bytesOf, certificateBytes, commaText, refusal, refusedRun, rowsOfFile } from './files.ts';

const NAMED = { supplier: 'Semi; "quoted", and 4.7' };

describe('a certificate with a decimal comma', () => {
  const run = acceptedRun({ lot: { number: 'L;1,5', size: 100, ...NAMED } });
  const text = commaText(run);

  it('has semicolons, a comma in the columns of numbers, and nothing else changed, as another program reads it', () => {
    const there = parse(text, { delimiter: ';', recordDelimiter: '\r\n' }) as string[][];
    const numeric = COLUMNS.map((column) => NUMERIC_COLUMNS.some((one) => one === column));
    const wanted = rowsOfFile(certificateOf(run, ABOUT, SIGNER)).map((cells) =>
      cells.map((cell, column) => (numeric[column] ? cell.replace('.', ',') : cell)),
    );
    expect(there).toEqual(wanted);
    expect(text).toContain(';4702,13;');
    expect(text).not.toMatch(/[^\r]\n/);
  });

  it('is verified: digest and signature are those of the other form', () => {
    const facts = verifyCertificate(bytesOf(text));
    const { sha256, form, ...same } = verifyCertificate(certificateBytes(run));
    expect(form).toBe('dot');
    expect(facts).toEqual({ ...same, form: 'comma', sha256: facts.sha256 });
    expect(facts.sha256).not.toBe(sha256);
  });

  it('names the first row and column that was changed', () => {
    expect(refusal(bytesOf(text.replace(';4702,13;', ';4703,13;')))).toMatch(
      /the digest: .* row \d+: ohms is "4703.13", but the other rows give "4702.13"/,
    );
  });

  it.each([
    ['a dot where a comma stood', (file: string) => file.replace(';4702,13;', ';4702.13;')],
    ['commas between its cells', (file: string) => file.replaceAll(';', ',')],
    ['quotes without need', (file: string) => file.replace('Ines Okoro', '"Ines Okoro"')],
    [
      'the closing rows of the other form',
      (file: string) => file.replace(/digest;.*/s, (rows) => rows.replaceAll(';', ',')),
    ],
    ['no signature', (file: string) => file.slice(0, file.lastIndexOf('signature;'))],
    ['a byte order mark', (file: string) => `\uFEFF${file}`],
  ])('is refused with %s', (_, change) => {
    expect(change(text)).not.toBe(text);
    refusal(bytesOf(change(text)));
  });

  it('is refused for any one byte changed (property)', () => {
    for (const whole of [bytesOf(text), bytesOf(commaText(refusedRun()))]) {
      fc.assert(
        fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (place, by) => {
          const changed = whole.slice();
          changed[place] = (changed[place] ?? 0) ^ by;
          refusal(changed);
        }),
        { numRuns: 100 },
      );
    }
  });
});
