import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { COLUMNS } from '../../../core/certificate/format.ts';
import { plainText, safeText } from '../../../core/certificate/safeText.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { SIGNER } from '../../signer.ts';
import { METER } from '../inspection/walk.ts';
import { ABOUT, acceptedRun, bytesOf, rowsOfFile } from './files.ts';

// OWASP Foundation, "CSV Injection" (owasp.org/www-community/attacks/CSV_Injection): cells that begin with = + - @, tab,
// carriage return or line feed, their full-width forms, and cells begun anew by a separator and quotes within the text.
// The list is from memory; the payloads are written for this test.
const FORMULAS = [
  '=1+2',
  '+1+2',
  '-1+2',
  '@SUM(1,2)',
  '\t=1+2',
  '\r=1+2',
  '\n=1+2',
  '＝1+2',
  '＋1+2',
  '－1+2',
  '＠SUM(1)',
  '=1+2";=1+2',
  '=1+2\'" ;,=1+2',
  '=HYPERLINK("http://example.invalid","press")',
  "=cmd|' /C calc'!A0",
  '  =1+2',
  '\u00A0=1+2',
  '\u3000=1+2',
  '\uFEFF=1+2',
  '\u200B=1+2',
  '"=1+2"',
  'a;=1+2',
  'a;"=1+2"',
  'a\t@SUM(1)',
  'a|-1',
  'a\r\n+1',
  '\u0000=1',
  '\u0007x',
];

const HARMLESS = [
  '',
  'L-2093',
  'thin film, 1 %',
  'A;B',
  '"quoted"',
  "O'Brien",
  '4k7',
  'Ω ± µ',
  '12',
  'a = b',
  '🙂',
  ' x',
];

const nasty = fc
  .array(
    fc.oneof(
      fc.constantFrom(...'=+-@\'";,|\t\r\n \u0000\u001b\u00a0\u2028\u200b\ufeff＝＋－＠﹦﹢﹣﹫−', '\r\n', "''", '"="'),
      fc.string({ unit: 'binary', maxLength: 2 }),
      fc.string({ maxLength: 3 }),
    ),
    { maxLength: 12 },
  )
  .map((parts) => parts.join(''));

/** Whether some spreadsheet could read a formula or control character where a cell begins. Written apart from the code it checks. */
function couldBeFormula(cell: string): boolean {
  return cell.split(/[;|\t\r\n]/).some((part, index) => {
    if (index === 0 && (cell.charCodeAt(0) < 0x20 || cell.startsWith('\u007f'))) return true;
    let at = 0;
    while (at < part.length && ' "\u00a0\u3000\ufeff\u200b'.includes(part[at] ?? '')) at += 1;
    return '=+-@＝＋－＠'.includes(part[at] ?? '\n');
  });
}

/** A decided run with this text wherever free text may stand. */
function runSaying(text: string): Run {
  const run = acceptedRun({}, { ...METER, identity: { ...METER.identity, text } });
  return {
    ...run,
    inspector: text,
    lot: { ...run.lot, number: text, supplier: text },
    part: { ...run.part, number: text, description: text },
    history: run.history.map((happening) => {
      if (happening.kind === 'confirmed') return { ...happening, by: text, cautions: [text, text] };
      if (happening.kind === 'voided') return { ...happening, by: text, reason: text || 'r' };
      return happening.kind === 'check' ? { ...happening, by: text } : happening;
    }),
    decided: run.decided && { ...run.decided, by: text, reason: text },
  };
}

const METER_TEXT = COLUMNS.indexOf('meter_text');

describe('free text in a certificate', () => {
  it.each(FORMULAS)('%j does not become a formula, and comes back exactly', (text) => {
    expect(couldBeFormula(text)).toBe(true);
    expect(couldBeFormula(safeText(text))).toBe(false);
    expect(plainText(safeText(text))).toBe(text);
  });

  it.each(HARMLESS)('%j stays as it is', (text) => {
    expect(safeText(text)).toBe(text);
    expect(plainText(text)).toBe(text);
  });

  it.each(["'", "'=1", "''", "a;'b", "'plain"])('%j keeps its own apostrophe', (text) => {
    expect(safeText(text)).not.toBe(text);
    expect(plainText(safeText(text))).toBe(text);
  });

  it('whatever it is, is safe and comes back exactly (property)', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(nasty, (text) => {
        const cell = safeText(text);
        expect(couldBeFormula(cell)).toBe(false);
        expect(plainText(cell)).toBe(text.toWellFormed());
      }),
      { numRuns: 3000 },
    );
  });

  it('goes through another CSV reader and through verification unharmed (property)', { timeout: 60_000 }, () => {
    fc.assert(
      // Names and numbers are never blank: no door lets such in.
      fc.property(
        nasty.filter((text) => text.trim() !== ''),
        (text) => {
          const written = certificateOf(runSaying(text), ABOUT, SIGNER);
          const rows = rowsOfFile(written);
          for (const cells of rows) {
            expect(cells).toHaveLength(COLUMNS.length);
            for (const column of [2, 3]) expect(couldBeFormula(cells[column] ?? '')).toBe(false);
          }
          const cellOf = (row: string, item: string) =>
            rows.find((cells) => cells[0] === row && cells[1] === item)?.[2];
          const meant = text.toWellFormed();
          expect(plainText(cellOf('lot', 'number') ?? '')).toBe(meant);
          expect(plainText(cellOf('meter', 'identity') ?? '')).toBe(meant);
          expect(plainText(cellOf('disposition', 'reason') ?? '')).toBe(meant);
          expect(verifyCertificate(bytesOf(written))).toMatchObject({ lot: meant, part: meant });
        },
      ),
      { numRuns: 300 },
    );
  });

  it('leaves the numbers of a meter numbers', () => {
    const rows = rowsOfFile(certificateOf(acceptedRun(), ABOUT, SIGNER));
    const texts = rows.filter((cells) => cells[0] === 'reading').map((cells) => cells[METER_TEXT]);
    expect(texts).toEqual(['+4.70213E+03', '+4.69950E+03', '+4.10000E+03', '+4.70100E+03', '+4653', '+4.74701E+03']);
  });

  it('takes what a meter said besides for text', () => {
    const run = acceptedRun();
    const { readings } = run;
    const odd = { ...run, readings: readings.changed(0, readings.size, (each) => ({ ...each, raw: '-4700 OHM' })) };
    const reading = rowsOfFile(certificateOf(odd, ABOUT, SIGNER)).find((cells) => cells[0] === 'reading');
    expect(reading?.[METER_TEXT]).toBe("'-4700 OHM");
  });
});
