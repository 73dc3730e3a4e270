import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import type { LotClaimInput } from '../../core/inspection/lotClaim.ts';
import { outlook } from '../../core/inspection/outlook.ts';
import { checkDue } from '../../core/inspection/run.ts';
import { openRecord } from '../../main/record/record.ts';
import { openStation as openStationHere, type Station } from '../../main/station/station.ts';
import { look } from '../chromium.ts';
import { rowsOfFile } from '../core/certificate/files.ts';
import { exampleLot } from '../exampleLot.ts';
import { mustReadPdf, type PdfPage, pagesOf } from '../pdf.ts';
import { quickBench } from '../quickBench.ts';
import { BY, checkBench, checkRealBench, readyBench, readyRealBench, runOf } from '../readyBench.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { SETTINGS, type TinyMeter, tinyMeter } from '../tinyMeter.ts';

const PICTURES = join(import.meta.dirname, '../../test-results/print');

/** ISO 216 and ANSI/ASME Y14.1: 210 mm × 297 mm, 8.5 in × 11 in, in points. */
const SIZES = { A4: [595, 842], Letter: [612, 792] } as const;

/** A folder whose record holds one decided lot, with no certificate written yet but those that `more` writes. */
async function decidedLot(
  claim: LotClaimInput,
  { meter, more }: { meter?: TinyMeter; more?: (station: Station) => Promise<unknown> } = {},
): Promise<string> {
  const folder = temporaryFolder();
  const folders = { data: folder, certificates: folder };
  const station = openStationHere({ folders, version: 'test', record: openRecord(folder) });
  try {
    const { run } = await station.ask('receive-lot', { claim });
    if (meter) await readyRealBench(station, run, meter);
    else await readyBench(station, run, await quickBench(await runOf(station, run), 'sim:7'));
    const check = () => (meter ? checkRealBench(station, run, meter) : checkBench(station, run));
    for (let now = await runOf(station, run); outlook(now) === 'undecided'; now = await runOf(station, run)) {
      if (checkDue(now) !== null) await check();
      await station.ask('take-reading', { run });
      if (now.readings.size === 3)
        await station.ask('void-reading', { run, reading: 2, by: BY, reason: 'probe slipped' });
    }
    await check();
    await station.ask('decide-lot', { run, disposition: 'accepted', by: BY });
    await more?.(station);
  } finally {
    await station.close();
  }
  return folder;
}

/** The certificate's page as it is printed on paper of this size. */
async function printed(page: Page, size: keyof typeof SIZES): Promise<PdfPage[]> {
  await page.getByRole('radio', { name: size, exact: true }).check();
  const pdf = await page.pdf({ preferCSSPageSize: true });
  mkdirSync(PICTURES, { recursive: true });
  writeFileSync(join(PICTURES, `certificate-${size}.pdf`), pdf);
  return pagesOf(pdf);
}

/** The file that the record of the only run names, and its cells as another program reads them. */
async function fileOn(page: Page): Promise<{ sha256: string; rows: Record<string, string>[] }> {
  const name =
    (await page
      .getByRole('row', { name: /^File / })
      .getByRole('cell')
      .textContent()) ?? '';
  const bytes = readFileSync(name);
  const [columns = [], ...rows] = rowsOfFile(bytes.toString('utf8'));
  return {
    sha256: createHash('sha256').update(bytes).digest('hex'),
    rows: rows.map((cells) => Object.fromEntries(columns.map((column, place) => [column, cells[place] ?? '']))),
  };
}

const unspaced = (text: string) => text.replace(/\s/g, '');

/** A time as paper has it: to the second, with its offset. */
const onPaper = (at: string) => at.replace('T', '').replace(/\.\d+/, '');

it('writes the file, then prints all it says on A4 and on letter, marked on every page', async (test) => {
  mustReadPdf(test);
  const claim = {
    ...exampleLot({ sampleSize: 60, accept: 3 }),
    decision: { rule: 'non-binary', guardFactor: '1', processSpread: '0.3 %' },
    temperature: { coefficient: { knownPpmPerKelvin: '50', uncertaintyPpmPerKelvin: '10' } },
  } satisfies LotClaimInput;
  const { page, press } = await openStation(test, 'light', await decidedLot(claim));
  await page.evaluate("location.hash = '#/run/1'");
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();

  await press('p');
  await page.getByText('The certificate’s file is not written yet.').waitFor();
  expect(await page.getByRole('article').count()).toBe(0);
  await look(page, 'print-1-no-file');
  await press('Enter');
  await page.getByRole('article', { name: 'The certificate as it is printed' }).waitFor();
  await look(page, 'print-2-light');
  await page.emulateMedia({ colorScheme: 'dark' });
  await look(page, 'print-3-dark');
  await page.emulateMedia({ colorScheme: 'light', media: 'print' });
  await look(page, 'print-4-paper');
  expect(await page.getByRole('button').count()).toBe(0);
  // As nobody emulates it: a PDF follows what is emulated.
  await page.emulateMedia({ media: null });

  const { sha256, rows } = await fileOn(page);
  for (const size of ['A4', 'Letter'] as const) {
    const pages = await printed(page, size);
    const [width, height] = SIZES[size];
    expect(pages.length).toBeGreaterThan(3);
    for (const [index, { text, ...page }] of pages.entries()) {
      expect(Math.round(page.width)).toBe(width);
      expect(Math.round(page.height)).toBe(height);
      expect(text).toContain(`page${index + 1}of${pages.length}`);
      expect(text).toContain(sha256);
      expect(text).toContain('PRACTICE,simulatedbench:noinspection');
      expect(text).toContain('Certificateofrun1,partTF-4K7-1,lotL-2093');
      expect(text).not.toContain('REPRINT');
      expect(text).not.toMatch(/NaN|undefined|Infinity/);
    }
    expectAllOf(rows, pages.map(({ text }) => text).join('\f'));
  }
  await expectTable(page, rows);

  // The size is remembered, and pressing the key prints.
  await page.reload();
  await page.getByRole('radio', { name: 'Letter', checked: true }).waitFor();
  await page.getByRole('article').waitFor();
  await page.evaluate("print = () => document.documentElement.setAttribute('data-printed', '')");
  await press('p');
  await page.locator('html[data-printed]').waitFor();
  await press('Escape');
  await page.getByRole('heading', { name: 'Certify the lot' }).waitFor();
});

/** Everything the rows of the file say stands on paper, each row's name right before its first figure. */
function expectAllOf(rows: Record<string, string>[], paper: string): void {
  let readings = 0;
  for (const row of rows) {
    if (row.row === 'reading') {
      readings++;
      // What all readings share is said above the table: here zero and k may be left out of the row.
      expect(paper).toContain(unspaced(`${row.meter_text}${onPaper(row.at ?? '')}`));
    }
    const { at = '', row: kind, item = '', verdict: _verdict, ...cells } = row;
    for (const cell of Object.values(cells)) {
      const text = cell.replace(/^'/, '');
      expect(paper, `${kind}, ${item}`).toContain(
        unspaced(kind === 'certificate' && item === 'key' ? (text.split(' ')[2] ?? '') : text),
      );
    }
    if (at !== '') expect(paper, `${kind}, ${item}`).toContain(onPaper(at));
  }
  expect(readings).toBeGreaterThan(60);
  for (const { row, item = '', ohms, number, pieces, percent, lower_ohms, text } of rows) {
    if (row !== 'summary' && row !== 'figure' && row !== 'drift') continue;
    const figure = pieces || ohms || percent || number || (lower_ohms && `from ${lower_ohms}`) || text;
    if (figure) expect(paper).toContain(unspaced(`${item[0]?.toUpperCase()}${item.slice(1)}${figure}`));
  }
}

/** The readings on the page, cell by cell, are those of the file. */
async function expectTable(page: Page, rows: Record<string, string>[]): Promise<void> {
  const table = page.getByRole('region', { name: 'Readings', exact: true }).getByRole('table');
  const titles = await table.getByRole('columnheader').allTextContents();
  const shown: string[][] = await table
    .locator('tbody tr')
    .evaluateAll((lines) =>
      lines.map((line) =>
        Array.from(line.children as Iterable<{ textContent: string | null }>, ({ textContent }) => textContent ?? ''),
      ),
    );
  const COLUMNS: Record<string, string> = {
    'No.': 'item',
    Piece: 'piece',
    'Value, Ω': 'ohms',
    '± U, Ω': 'expanded_ohms',
    'Temp., Ω': 'temperature_ohms',
    'Zero, Ω': 'zero_ohms',
    'Wrong, %': 'wrong_percent',
    'Meter’s text': 'meter_text',
  };
  const readings = rows.filter(({ row }) => row === 'reading');
  expect(shown).toHaveLength(readings.length);
  for (const [title, column] of Object.entries(COLUMNS)) {
    const place = titles.indexOf(title);
    const values = readings.map((row) => row[column]);
    if (place < 0) expect(new Set(values).size, `${title} is left out, so all say the same`).toBe(1);
    else
      expect(
        shown.map((cells) => cells[place]),
        title,
      ).toEqual(values);
  }
  const verdicts = shown.map((cells) =>
    (cells[titles.indexOf('Verdict')] ?? '').trim().toLowerCase().replaceAll(' ', '-'),
  );
  expect(verdicts).toEqual(readings.map(({ verdict }) => verdict));
}

it('marks a reprint on every page, and lays no practice mark on a real inspection', async (test) => {
  mustReadPdf(test);
  const meter = await tinyMeter(SETTINGS);
  meter.ohms = '+4.7012E+03';
  const folder = await decidedLot(exampleLot({ sampleSize: 8, accept: 1 }), {
    meter,
    more: async (station) => {
      await station.ask('write-certificate', { run: 1 });
      await station.ask('write-certificate', { run: 1 });
    },
  });
  const { page } = await openStation(test, 'light', folder);
  await page.evaluate("location.hash = '#/run/1/print'");
  await page.getByRole('article').waitFor();
  const { sha256, rows } = await fileOn(page);
  expect(rows.find(({ item }) => item === 'reprint')?.number).toBe('2');
  for (const [index, { text }] of (await printed(page, 'A4')).entries()) {
    expect(text, `page ${index + 1}`).toContain('REPRINT,copy2');
    expect(text).toContain(sha256);
    expect(text).not.toContain('PRACTICE');
  }
});

it('does not print a certificate that was corrected since, before it is written anew', async (test) => {
  mustReadPdf(test);
  const folder = await decidedLot(exampleLot({ sampleSize: 5, accept: 1 }), {
    more: async (station) => {
      await station.ask('write-certificate', { run: 1 });
      const is = 'L-2094';
      await station.ask('correct-fact', {
        run: 1,
        fact: 'lot number',
        is,
        by: BY,
        reason: 'read from the wrong label',
      });
    },
  });
  const { page, press } = await openStation(test, 'dark', folder);
  await page.evaluate("location.hash = '#/run/1/print'");
  await page.getByText('Something was decided or corrected since').waitFor();
  expect(await page.getByRole('article').count()).toBe(0);
  await press('Enter');
  await page.getByRole('article').waitFor();
  for (const { text } of await printed(page, 'Letter')) expect(text).toContain('lotL-2094');
});
