import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readDialectFile, readOwnDialects } from '../../instruments/meter/ownDialects.ts';

const whole = (name: string) => `{
  "name": "${name}",
  "title": "Bench three",
  "about": "The meter on bench three.",
  "functions": {
    "2-wire": { "units": { "Ohm": 1, "kOhm": 1e3 }, "fixedCycles": 5 }
  },
  "talker": { "pattern": "{value} {unit}" }
}
`;

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'reelohm-dialects-'));
});
afterEach(() => rm(folder, { recursive: true }));

/** What is told of one file, without its name. */
function told(text: string, name = 'bench-3'): string[] {
  const read = readDialectFile(`${name}.json`, text);
  return 'dialect' in read ? [] : read.problems.map((each) => each.what.replace(`${name}.json, `, ''));
}

describe('dialects of the user', () => {
  it('are read from their folder, and one that is wrong hides no other', async () => {
    await writeFile(join(folder, 'bench-3.json'), whole('bench-3'));
    await writeFile(join(folder, 'broken.json'), '{');
    await writeFile(join(folder, 'with-mark.json'), `\uFEFF${whole('with-mark')}`);
    await writeFile(join(folder, 'notes.txt'), 'not a dialect');
    await mkdir(join(folder, 'folder.json'));
    const { dialects, problems } = await readOwnDialects(folder);
    expect(dialects.map((dialect) => dialect.name)).toEqual(['bench-3', 'with-mark']);
    expect(problems.map((each) => each.code)).toEqual(['dialect-invalid', 'file-unreadable']);
    expect(problems[0]?.what).toContain(join(folder, 'broken.json'));
  });

  it('are none where there is no folder, or an empty one', async () => {
    expect(await readOwnDialects(join(folder, 'none'))).toEqual({ dialects: [], problems: [] });
    expect(await readOwnDialects(folder)).toEqual({ dialects: [], problems: [] });
  });

  it('tell that their folder is none', async () => {
    await writeFile(join(folder, 'file'), '');
    expect((await readOwnDialects(join(folder, 'file'))).problems).toMatchObject([{ code: 'file-unreadable' }]);
  });

  it.each([
    [
      'a missing comma',
      (text: string) => text.replace('"Bench three",', '"Bench three"'),
      'line 4, column 3: not JSON: comma expected',
    ],
    [
      'a comma too many',
      (text: string) => text.replace('"fixedCycles": 5', '"fixedCycles": 5,'),
      'line 6, column 71: not JSON: property name expected',
    ],
    [
      'a comment',
      (text: string) => text.replace('{', '{ // mine'),
      'line 1, column 3: not JSON: invalid comment token',
    ],
    ['an end too early', (text: string) => text.slice(0, 40), 'line 3, column 12: not JSON: unexpected end of string'],
    ['nothing', () => '', 'line 1, column 1: not JSON: value expected'],
    ['a list', () => '[]', 'line 1, column 1: expected object, received array'],
    [
      'a number for text',
      (text: string) => text.replace('"Bench three"', '3'),
      'line 3, column 12: "title": expected string, received number',
    ],
    [
      'an unknown field',
      (text: string) => text.replace('"fixedCycles"', '"fixedcycles"'),
      'line 6, column 53: "fixedcycles" is not a field of a dialect here',
    ],
    [
      'an unknown function',
      (text: string) => text.replace('"2-wire"', '"3-wire"'),
      'line 6, column 5: "3-wire" is not a field of a dialect here',
    ],
    [
      'a unit with a blank',
      (text: string) => text.replace('"Ohm"', '"O hm"'),
      'line 6, column 28: "O hm": expected a unit as the meter sends it, without blanks',
    ],
    [
      'a unit that is no power of ten',
      (text: string) => text.replace('1e3', '1024'),
      'line 6, column 46: "functions.2-wire.units.kOhm": expected a power of ten, like 1, 1e3 or 1e-3',
    ],
    [
      'a missing field',
      (text: string) => text.replace('  "title": "Bench three",\n', ''),
      'line 1, column 1: "title" is missing',
    ],
    [
      'a pattern without value',
      (text: string) => text.replace('{value}', 'value'),
      'line 8, column 26: "talker.pattern": expected {value} once',
    ],
    [
      'a field twice',
      (text: string) => text.replace('"about"', '"title"'),
      'line 4, column 3: the field "title" is here for the second time',
    ],
    [
      'another name than the file',
      (text: string) => text.replace('bench-3', 'bench-4'),
      'line 2, column 11: "name" is "bench-4", but the file is called bench-3.json; they must be the same',
    ],
  ])('name the place of %s', (_, change, expected) => {
    expect(told(change(whole('bench-3')))[0]).toBe(expected);
  });

  it('count lines whatever ends them', () => {
    for (const end of ['\r\n', '\r']) {
      expect(told(whole('bench-3').replace('"Bench three"', '3').replaceAll('\n', end))[0]).toMatch(
        /^line 3, column 12/,
      );
    }
  });

  it('may not take the name of a dialect that comes with the program', () => {
    expect(told(whole('talker'), 'talker')).toEqual([
      'line 2, column 11: "talker" is the name of a dialect that comes with the program; choose another',
    ]);
  });
});
