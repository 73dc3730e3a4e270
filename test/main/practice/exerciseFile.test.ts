import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readExercise, sealedText } from '../../../main/practice/exerciseFile.ts';
import { shippedExercises } from '../../../main/practice/shippedExercises.ts';
import { problemOf } from '../../openedStation.ts';

const FOLDER = join(import.meta.dirname, '../../../instruments/exercises');
const TEXT = readFileSync(join(FOLDER, 'string-of-ten.json'), 'utf8');
// biome-ignore lint/suspicious/noExplicitAny: JSON of a file, changed at will
type Json = any;
const changed = (change: (exercise: Json) => void) => {
  const exercise = JSON.parse(TEXT);
  change(exercise);
  return JSON.stringify(exercise);
};

describe('the file of an exercise', () => {
  it('is as much when it is sealed, and tells nothing of what is true', () => {
    for (const exercise of shippedExercises()) {
      const text = sealedText(exercise);
      expect(readExercise('sealed.json', text)).toEqual(exercise);
      expect(text).not.toContain(exercise.truth.explained.slice(0, 30));
      expect(text).not.toContain('scenario');
    }
  });

  it('is refused when any letter of the seal or of its digest was changed', () => {
    const text = sealedText(readExercise('plain.json', TEXT));
    const { sealed, digest } = JSON.parse(text);
    const one = fc.tuple(fc.constantFrom('sealed', 'digest'), fc.nat({ max: 2000 }));
    fc.assert(
      fc.property(one, ([field, at]) => {
        const was = field === 'sealed' ? sealed : digest;
        const place = at % (was.length - 2);
        const other = was[place] === '0' ? '1' : '0';
        const broken = JSON.parse(text);
        broken[field] = `${was.slice(0, place)}${other}${was.slice(place + 1)}`;
        try {
          readExercise('broken.json', JSON.stringify(broken));
          return false;
        } catch (thrown) {
          return (thrown as { code: string }).code === 'exercise-seal-broken';
        }
      }),
      { numRuns: 50 },
    );
  });

  it.each(['minutes', 'level', 'task'])('is refused when its %s was changed after it was sealed', async (field) => {
    const broken = JSON.parse(sealedText(readExercise('plain.json', TEXT)));
    broken[field] = field === 'task' ? 'Nothing to do.' : broken[field] + 1;
    const read = Promise.resolve().then(() => readExercise('broken.json', JSON.stringify(broken)));
    expect(await problemOf(read)).toBe('exercise-seal-broken');
  });

  it('may have a lot for which only holding it is right', () => {
    const held = changed((one) => Object.assign(one.truth, { dispositions: ['on-hold'] }));
    expect(readExercise('held.json', held).truth.dispositions).toEqual(['on-hold']);
  });

  it.each<[string, string, RegExp]>([
    ['no JSON', '{ "format": 1,', /cannot be used, the file: it is no JSON/],
    ['another format', changed((one) => Object.assign(one, { format: 2 })), /format:/],
    ['a field that is not known', changed((one) => Object.assign(one, { marks: 3 })), /cannot be used/],
    ['no name', changed((one) => Object.assign(one, { name: 'My exercise' })), /name: expected small letters/],
    ['a lot that makes no sense', changed((one) => Object.assign(one.lot.part, { nominal: 'x' })), /lot: /],
    [
      'a bench that makes no sense',
      changed((one) => Object.assign(one.truth.scenario, { seed: -1 })),
      /truth\.scenario: /,
    ],
    ['a cause nobody can name', changed((one) => Object.assign(one.truth, { causes: ['magic'] })), /truth\.causes/],
    [
      'a lot that is "studied"',
      changed((one) => Object.assign(one.truth, { dispositions: ['studied'] })),
      /truth\.dispositions: a study ends/,
    ],
    [
      'more operators than its study',
      changed((one) => Object.assign(one.truth, { contactOhmsOf: [0.1] })),
      /truth\.contactOhmsOf: /,
    ],
    ['a number that is not asked for', changed((one) => Object.assign(one, { asks: null })), /truth\.which: /],
  ])('with %s is refused by file and field', async (_, text, words) => {
    const read = () => readExercise('mine.json', text);
    expect(await problemOf(Promise.resolve().then(read))).toBe('exercise-file-unusable');
    expect(read).toThrow(words);
    expect(read).toThrow('mine.json');
  });

  it('has its README name every field there is', () => {
    const readme = readFileSync(join(FOLDER, 'README.md'), 'utf8');
    const fields = new Set(
      shippedExercises().flatMap(({ open, truth }) => [
        ...Object.keys(open),
        ...Object.keys(truth).map((key) => `truth.${key}`),
      ]),
    );
    for (const field of fields) expect(readme, field).toContain(`\`${field}\``);
  });
});
