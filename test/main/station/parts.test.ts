import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { type Part, type PartInput, part } from '../../../core/part/part.ts';
import { partsFile, readPartsFile } from '../../../core/part/partsFile.ts';
import { asProblem } from '../../../core/problem/problem.ts';
import { knownParts } from '../../../main/station/knownParts.ts';
import type { Station } from '../../../main/station/station.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { lineFrom, startNode } from '../../reelohm.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

const P1: PartInput = { number: 'P-1', nominal: '4k7', tolerance: '1 %' };
const P2: PartInput = {
  number: 'P-2',
  nominal: '10k',
  tolerance: '5 %',
  reference: 'R-10k',
  supplier: 'Example Supply',
};
const numbersAt = async (station: Station) => (await station.ask('parts', {})).map(({ number }) => number);
const CSV = ['part,nominal,tolerance', 'P-1,4k7,2 %', 'P-3,1k,5 %', 'P-4,1x,5 %'].join('\n');

describe('the parts list of a station', () => {
  it('keeps parts in the order of their numbers, finds one, and lasts beyond the station', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    expect(await station.ask('parts', {})).toEqual([]);
    for (const number of ['P-10', 'P-2', 'P-1']) await station.ask('save-part', { part: { ...P2, number } });
    expect(await numbersAt(station)).toEqual(['P-1', 'P-2', 'P-10']);
    expect(await station.ask('part', { number: 'P-2' })).toEqual({ part: P2 });
    expect(await station.ask('part', { number: 'P-3' })).toEqual({ part: null });
    await station.close();
    const again = openedStation(folder);
    expect(await numbersAt(again)).toEqual(['P-1', 'P-2', 'P-10']);
    // Nothing of a part is lost on the way.
    expect(part.parse((await again.ask('part', { number: 'P-2' })).part)).toEqual(part.parse(P2));
  });

  it('keeps parts that are saved at the same moment, all of them', async () => {
    const station = openedStation();
    const numbers = Array.from({ length: 20 }, (_, index) => `P-${index + 1}`);
    await Promise.all(numbers.map((number) => station.ask('save-part', { part: { ...P1, number } })));
    expect(await numbersAt(station)).toEqual(numbers);
  });

  it('replaces a part of the same number only when it is said, and renames one without leaving the old', async () => {
    const station = openedStation();
    await station.ask('save-part', { part: P1 });
    await station.ask('save-part', { part: P2 });
    const wider = { ...P1, tolerance: '2 %' };
    expect(await problemOf(station.ask('save-part', { part: wider }))).toBe('part-known-already');
    expect(await problemOf(station.ask('save-part', { part: { ...wider, number: 'P-2' }, was: 'P-1' }))).toBe(
      'part-known-already',
    );
    expect(await station.ask('part', { number: 'P-1' })).toEqual({ part: P1 });
    await station.ask('save-part', { part: wider, was: 'P-1' });
    await station.ask('save-part', { part: { ...wider, number: 'P-0' }, was: 'P-1' });
    expect(await numbersAt(station)).toEqual(['P-0', 'P-2']);
    await station.ask('save-part', { part: { ...wider, number: 'P-2' }, over: true });
    expect(await station.ask('part', { number: 'P-2' })).toEqual({ part: { ...wider, number: 'P-2' } });
  });

  it('refuses a part that makes no sense, and one to be removed that is not there', async () => {
    const station = openedStation();
    expect(await problemOf(station.ask('save-part', { part: { ...P1, nominal: '' } }))).toBe('window-without-nominal');
    expect(await problemOf(station.ask('save-part', { part: { ...P1, plan: { aql: '3' } } }))).toBe('aql-unknown');
    expect(await problemOf(station.ask('remove-part', { number: 'P-1' }))).toBe('part-unknown');
    await station.ask('save-part', { part: P1 });
    await station.ask('remove-part', { number: 'P-1' });
    expect(await station.ask('parts', {})).toEqual([]);
  });

  it('tells every screen that the list was changed, and nobody of what was refused', async () => {
    const station = openedStation();
    let told = 0;
    station.listen((news) => {
      if (news.kind === 'parts') told += 1;
    });
    await station.ask('save-part', { part: P1 });
    await problemOf(station.ask('save-part', { part: P1 }));
    await station.ask('remove-part', { number: 'P-1' });
    await station.ask('preview-parts', { csv: CSV });
    expect(told).toBe(2);
  });

  it('previews a file, and imports nothing before that is confirmed', async () => {
    const station = openedStation();
    await station.ask('save-part', { part: P1 });
    const { version, ...preview } = await station.ask('preview-parts', { csv: CSV });
    expect(preview).toEqual({
      added: [{ row: 3, number: 'P-3', nominal: '1k', tolerance: '5 %' }],
      replaced: [{ row: 2, number: 'P-1', changes: [{ column: 'tolerance', before: '1 %', after: '2 %' }] }],
      odd: [],
      same: 0,
      bad: [{ row: 4, column: 'nominal', value: '1x', why: expect.stringContaining('"1x" is not a resistance') }],
      unread: [],
    });
    expect(await station.ask('parts', {})).toEqual([P1]);
    expect(await station.ask('import-parts', { csv: CSV, version })).toEqual({ imported: 2 });
    expect(await station.ask('parts', {})).toEqual([
      { ...P1, tolerance: '2 %' },
      { number: 'P-3', nominal: '1k', tolerance: '5 %' },
    ]);
    expect((await station.ask('preview-parts', { csv: CSV })).same).toBe(2);
  });

  it('imports the rows that are named, and refuses a bad one among them', async () => {
    const station = openedStation();
    const { version } = await station.ask('preview-parts', { csv: CSV });
    expect(await problemOf(station.ask('import-parts', { csv: CSV, version, rows: [3, 4] }))).toBe('input-invalid');
    expect(await station.ask('parts', {})).toEqual([]);
    expect(await station.ask('import-parts', { csv: CSV, version, rows: [3, 3] })).toEqual({ imported: 1 });
    expect(await numbersAt(station)).toEqual(['P-3']);
  });

  it('does not import what nobody has seen: the list changed after the preview', async () => {
    const station = openedStation();
    const { version } = await station.ask('preview-parts', { csv: CSV });
    await station.ask('save-part', { part: P1 });
    expect(await problemOf(station.ask('import-parts', { csv: CSV, version }))).toBe('parts-changed-meanwhile');
    expect(await station.ask('parts', {})).toEqual([P1]);
  });

  it('holds 20 000 parts and no more', { timeout: 60_000 }, async () => {
    const station = openedStation();
    const rows = Array.from({ length: 20_000 }, (_, index) => `P-${index},1k,5 %`).join('\n');
    const csv = `part,nominal,tolerance\n${rows}`;
    const { version } = await station.ask('preview-parts', { csv });
    expect(await station.ask('import-parts', { csv, version })).toEqual({ imported: 20_000 });
    expect(await problemOf(station.ask('save-part', { part: { ...P1, number: 'one more' } }))).toBe('parts-too-many');
    await station.ask('save-part', { part: { ...P1, number: 'P-7' }, over: true });
    expect(await station.ask('parts', {})).toHaveLength(20_000);
  });

  it('exports what it imports again', async () => {
    const station = openedStation();
    await station.ask('save-part', { part: P1 });
    await station.ask('save-part', { part: P2 });
    const [first, second] = [await station.ask('export-parts', {}), await station.ask('export-parts', {})];
    expect(first.file).toMatch(/certificates.parts-\d{4}-\d\d-\d\d\.csv$/);
    expect(second.file).toMatch(/-2\.csv$/);
    expect(readFileSync(first.file, 'utf8')).toBe(first.text);
    expect(readPartsFile(first.text).good.map((each) => each.part)).toEqual([part.parse(P1), part.parse(P2)]);
  });
});

describe('the file of the parts list', () => {
  it('is never overwritten where it cannot be read, and says which part and field is wrong', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'parts.json');
    const station = openedStation(folder);
    for (const [text, words] of [
      ['{', /could not be read/],
      ['{}', /is not a list of parts/],
      [JSON.stringify([P1, { ...P2, tolerance: 7 }]), /part 2: "tolerance" is a number, expected text/],
      [JSON.stringify([{ ...P1, colour: 'red' }]), /part 1: "colour" is not a field that is known here/],
    ] as const) {
      writeFileSync(file, text);
      const asked = station.ask('save-part', { part: P1 });
      expect(asProblem(await asked.catch((thrown) => thrown)).what).toMatch(words);
      expect(readFileSync(file, 'utf8')).toBe(text);
    }
  });

  it('is read anew when somebody changed it by hand', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    await station.ask('save-part', { part: P1 });
    writeFileSync(join(folder, 'parts.json'), JSON.stringify([P2]));
    expect(await numbersAt(station)).toEqual(['P-2']);
    await station.ask('save-part', { part: P1 });
    expect(await numbersAt(station)).toEqual(['P-1', 'P-2']);
  });

  it('stays as it was where it cannot be written, and so does what is known', async () => {
    const folder = temporaryFolder();
    const parts = knownParts(join(folder, 'no such folder'));
    expect(await problemOf(parts.save(part.parse(P1), null, false))).toBe('file-unwritable');
    expect((await parts.all()).byNumber.size).toBe(0);
  });

  it('is whole after kill -9 at any moment: one state or the next, never half of one', {
    timeout: 120_000,
  }, async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'parts.json');
    const at = (count: number): Part[] =>
      Array.from({ length: 400 }, (_, index) =>
        part.parse({ ...P1, number: `P-${index}`, description: `state ${count}` }),
      );
    const program = `
      import { inOrder, knownParts, partsText } from ${JSON.stringify(pathToFileURL(join(import.meta.dirname, '../../../main/station/knownParts.ts')).href)};
      import { readPartsFile } from ${JSON.stringify(pathToFileURL(join(import.meta.dirname, '../../../core/part/partsFile.ts')).href)};
      const parts = knownParts(${JSON.stringify(folder)});
      const states = JSON.parse(process.argv[1]).map((csv) => new Map(readPartsFile(csv).good.map(({ part }) => [part.number, part])));
      console.log('begins');
      for (let count = 0; ; count++) {
        const { version } = await parts.all();
        await parts.replace(partsText(inOrder(states[count % states.length])), version);
        console.log('kept', count);
      }`;
    const states = JSON.stringify([partsFile(at(0)), partsFile(at(1))]);
    for (let kill = 0; kill < 6; kill++) {
      const child = startNode(['--input-type=module', '--eval', program, states]);
      await lineFrom(child.stdout, new RegExp(`kept ${1 + kill * 3}$`));
      const gone = new Promise((resolve) => child.once('exit', resolve));
      setTimeout(() => child.kill('SIGKILL'), kill * 3);
      await gone;
      const { byNumber } = await knownParts(folder).all();
      const descriptions = new Set([...byNumber.values()].map(({ description }) => description));
      expect([byNumber.size, descriptions.size]).toEqual([400, 1]);
      expect(readFileSync(file, 'utf8').endsWith(']\n')).toBe(true);
    }
    expect(readdirSync(folder).filter((name) => name === 'parts.json')).toHaveLength(1);
  });
});
