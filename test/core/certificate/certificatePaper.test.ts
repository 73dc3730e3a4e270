import { expect, it } from 'vitest';
import { CERTIFICATE } from '../../../core/certificate/certificateFormat.ts';
import { certificateOf, writeCertificate } from '../../../core/certificate/certificateOf.ts';
import { paperOf } from '../../../core/certificate/certificatePaper.ts';
import { signatureRow } from '../../../core/certificate/closedFile.ts';
import { COLUMNS } from '../../../core/certificate/format.ts';
import { SIGNER } from '../../signer.ts';
import { ABOUT, acceptedRun, refusedRun, rowsOfFile } from './files.ts';

const REASON = '=1+1, and "quoted"';

/** All rows of a paper as cells of the file, formula guards aside. */
function cellsOn(text: string): string[][] {
  const { rows, readings } = paperOf(text);
  return [...rows.map(({ row }) => row), ...readings.rows].map((row) => COLUMNS.map((column) => row[column] ?? ''));
}

it.each([
  ['accepted', acceptedRun()],
  ['not accepted', refusedRun()],
])('has every row of the file of a lot that was %s, and the run they are of', (_, run) => {
  const text = certificateOf(run, ABOUT, SIGNER);
  const file = rowsOfFile(text).slice(1, -2);
  const ordered = [...file.filter(([row]) => row !== 'reading'), ...file.filter(([row]) => row === 'reading')];
  expect(cellsOn(text)).toEqual(ordered);
  const paper = paperOf(text);
  expect(paper.run.decided).toEqual(run.decided);
  expect(paper.run.tally).toEqual(run.tally);
  expect(paper.run.window).toEqual(run.window);
  expect(paper.about).toEqual({ ...ABOUT, publicKey: SIGNER.publicKey });
  const [[, , digest], [, , signature]] = rowsOfFile(text).slice(-2) as [string[], string[]];
  expect(paper).toMatchObject({ digest, signature });
});

it('says after which reading something happened', () => {
  const { rows } = paperOf(certificateOf(acceptedRun(), ABOUT, SIGNER));
  expect(rows.find(({ row }) => row.row === 'void')).toMatchObject({ afterReading: 3 });
  expect(rows.find(({ row }) => row.row === 'lot')).toMatchObject({ afterReading: 0 });
});

it('is the same of the form with a decimal comma, and has texts as they were meant', () => {
  const run = acceptedRun();
  const named = { ...run, decided: run.decided && { ...run.decided, reason: REASON } };
  const dot = certificateOf(named, ABOUT, SIGNER);
  let comma = '';
  const about = { ...ABOUT, publicKey: SIGNER.publicKey };
  const digest = writeCertificate(named, about, 'comma', (chunk) => {
    comma += Buffer.from(chunk).toString('utf8');
  });
  comma += signatureRow(digest, CERTIFICATE, 'comma', SIGNER);
  expect(comma).not.toBe(dot);
  expect(paperOf(comma)).toEqual(paperOf(dot));
  expect(paperOf(dot).rows.find(({ row }) => row.row === 'disposition' && row.item === 'reason')?.row.text).toBe(
    REASON,
  );
});

it('refuses what does not end as a certificate does', () => {
  const text = certificateOf(acceptedRun(), ABOUT, SIGNER);
  const cut = text.slice(0, text.lastIndexOf('signature,'));
  for (const wrong of ['', 'piece,ohms\r\n1,2\r\n', cut]) {
    expect(() => paperOf(wrong)).toThrow(expect.objectContaining({ code: 'certificate-broken' }));
  }
});
