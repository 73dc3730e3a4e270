import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signed } from '../../../core/certificate/closedFile.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { readingsOf } from '../../../core/study/study.ts';
import { STUDY_CLOSED } from '../../../core/study/studyClosed.ts';
import { type StudyRecord, studyFile } from '../../../core/study/studyFile.ts';
import { degrees, figure, STUDY_COLUMNS } from '../../../core/study/studyFormat.ts';
import { studyChoice } from '../../../core/study/studyPlan.ts';
import { verifyStudy } from '../../../core/study/verifyStudy.ts';
import { SIGNER } from '../../signer.ts';
import { closedBy } from '../certificate/files.ts';
import { houfBerman } from './houfBerman.ts';

const signedFile = (record: StudyRecord) => signed(studyFile(record), STUDY_CLOSED, SIGNER);
const bytes = (text: string) => new TextEncoder().encode(text);

const imported: StudyRecord = {
  version: '0.1.0',
  publicKey: SIGNER.publicKey,
  title: 'Thermal impedance',
  by: 'Ines Okoro',
  at: '2026-11-25T10:00:00+01:00',
  part: '=PART(1)',
  window: { lower: '10', upper: '60' },
  choice: null,
  of: { design: 'crossed', readings: houfBerman },
};

const singleChoice = studyChoice.parse({
  kind: 'study',
  design: 'single',
  pieces: 1,
  operators: ['Ines Okoro'],
  repeats: 4,
  sessions: 3,
  runs: 2,
  seed: 4711,
  referenceOhms: '100.00',
  referenceUncertaintyOhms: '0.02',
});

/** Invented values, different at every turn. */
const valueAt = (turn: number) => (100 + ((turn * 37) % 23) / 100).toFixed(3);

const measured: StudyRecord = {
  ...imported,
  title: 'Reference resistor',
  window: { lower: '99', upper: null },
  choice: singleChoice,
  of: readingsOf(singleChoice, valueAt),
};

const crossedChoice = studyChoice.parse({
  kind: 'study',
  design: 'crossed',
  pieces: 4,
  operators: ['+Ana', 'Ben, the second'],
  repeats: 2,
  seed: 5,
});
const measuredCrossed: StudyRecord = {
  ...imported,
  window: null,
  choice: crossedChoice,
  of: readingsOf(crossedChoice, valueAt),
};

const rowsOfFile = (text: string): string[][] => parse(text);

/** The file with some cells changed and its digest made anew: what somebody who knows the format might do. */
function forged(text: string, change: (rows: string[][]) => void): Uint8Array {
  const rows = rowsOfFile(text).slice(0, -2);
  change(rows);
  return closedBy(Buffer.from(stringify(rows, { record_delimiter: 'windows' })), SIGNER, 'Reelohm study 2');
}

function refusal(file: Uint8Array): string {
  try {
    verifyStudy(file);
  } catch (thrown) {
    if (thrown instanceof Problem && thrown.code === 'study-broken') return thrown.what;
    throw thrown;
  }
  throw new Error('the file was taken for intact');
}

const cellOf = (rows: string[][], row: string, item: string, column: (typeof STUDY_COLUMNS)[number]): string =>
  rows.find((cells) => cells[0] === row && cells[1] === item)?.[STUDY_COLUMNS.indexOf(column)] ?? '';

describe('the file of a study', () => {
  it.each([
    ['from a file', imported],
    ['measured, single operator', measured],
    ['measured, crossed', measuredCrossed],
  ])('says again what was put in and what follows: %s', (_, record) => {
    const text = signedFile(record);
    const { record: again, sha256, checked } = verifyStudy(bytes(text));
    expect(again).toEqual(record);
    expect(sha256).toBe(createHash('sha256').update(text).digest('hex'));
    expect(checked.length).toBeGreaterThan(3);
    expect(signedFile(again)).toBe(text);
  });

  it('is RFC 4180 and ends with the SHA-256 of all bytes before it, and the signature', () => {
    const text = signedFile(imported);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const cells of rowsOfFile(text)) expect(cells).toHaveLength(STUDY_COLUMNS.length);
    const start = text.lastIndexOf('digest,');
    const digest = createHash('sha256').update(text.slice(0, start)).digest('hex');
    const empty = ','.repeat(STUDY_COLUMNS.length - 3);
    expect(text.slice(start)).toMatch(
      new RegExp(`^digest,sha-256,${digest}${empty}\r\nsignature,ed25519,[0-9a-f]{128}${empty}\r\n$`),
    );
  });

  // Houf and Berman 1988: shared check values, section 6.
  it('has the table, components and conclusions with 6 significant digits', () => {
    const rows = rowsOfFile(signedFile(imported));
    expect(cellOf(rows, 'variance', 'piece', 'sum_of_squares')).toBe('3935.96');
    expect(cellOf(rows, 'variance', 'interaction', 'mean_square')).toBe('2.69506');
    expect(cellOf(rows, 'variance', 'piece', 'f')).toBe('162.270');
    expect(cellOf(rows, 'variance', 'operator', 'p')).toBe('0.004810');
    expect(cellOf(rows, 'component', 'piece', 'variance')).toBe('48.2926');
    expect(cellOf(rows, 'component', 'gauge', 'percent_of_study_variation')).toBe('18.9749');
    expect(cellOf(rows, 'gauge', 'distinct categories', 'text')).toBe('7');
    expect(cellOf(rows, 'conclusion', 'tolerance', 'grade')).toBe('depends');
    expect(cellOf(rows, 'rule', 'interaction', 'text')).toContain('p > 0.25');
    expect(rows.filter(([row]) => row === 'reading')).toHaveLength(90);
    expect(rows.some(([row]) => row === 'pooled')).toBe(false);
  });

  it('has text that a spreadsheet cannot take for a formula', () => {
    expect(cellOf(rowsOfFile(signedFile(imported)), 'part', 'number', 'text')).toBe("'=PART(1)");
    const crossed = rowsOfFile(signedFile(measuredCrossed));
    const operators = crossed
      .filter(([row]) => row === 'reading')
      .map((cells) => cells[STUDY_COLUMNS.indexOf('operator')]);
    expect(new Set(operators)).toEqual(new Set(["'+Ana", 'Ben, the second']));
  });
});

describe('a file that was changed', () => {
  it.each([
    ['one byte', (file: Uint8Array) => file.with(100, ((file[100] ?? 0) + 1) % 256)],
    ['a byte less', (file: Uint8Array) => file.slice(1)],
    ['a row more', (file: Uint8Array) => bytes(`${new TextDecoder().decode(file)}\r\n`)],
    ['nothing left', () => new Uint8Array()],
  ])('is refused by its digest: %s', (_, change) =>
    expect(refusal(change(bytes(signedFile(imported))))).toContain('the digest'),
  );

  it('is refused with a new digest too, naming the first cell that differs', () => {
    const text = signedFile(imported);
    const place = rowsOfFile(text).findIndex(([row, item]) => row === 'component' && item === 'gauge');
    const column = STUDY_COLUMNS.indexOf('percent_of_tolerance');
    const found = refusal(
      forged(text, (rows) => {
        (rows[place] as string[])[column] = '9.90000';
      }),
    );
    expect(found).toContain(`row ${place + 1}: percent_of_tolerance is "9.90000", but the readings give "16.1`);
  });

  it('is refused for a reading made better: the figures do not follow any more', () => {
    const text = signedFile(imported);
    const found = refusal(
      forged(text, (rows) => {
        const reading = rows.find(([row]) => row === 'reading') as string[];
        reading[STUDY_COLUMNS.indexOf('ohms')] = '38';
      }),
    );
    expect(found).toMatch(/row \d+: .* but the readings give/);
  });

  it('is refused where the readings are not in the order from the seed', () => {
    const text = signedFile(measuredCrossed);
    const found = refusal(
      forged(text, (rows) => {
        const seed = rows.find(([row, item]) => row === 'choice' && item === 'seed') as string[];
        seed[2] = '6';
      }),
    );
    expect(found).toMatch(/row \d+: (piece|operator) is .* but the order from the seed gives/);
  });

  it.each([
    ['no format', 'study', 'format'],
    ['no time', 'study', 'made at'],
    ['no design', 'study', 'design'],
    ['no window', 'part', 'window'],
  ])('is refused with %s', (_, row, item) => {
    const text = signedFile(imported);
    const without = forged(text, (rows) => {
      rows.splice(
        rows.findIndex((cells) => cells[0] === row && cells[1] === item),
        1,
      );
    });
    expect(refusal(without)).toContain(`there is no row "${row}, ${item}"`);
  });

  it('is refused for any cell changed, whatever digest it has (property)', () => {
    // What nothing else follows from may be another: who, what, when, which program; and of the single-operator study of one
    // piece its one limit, its operator and its seed.
    const about = ['program version', 'title', 'made by', 'made at', 'number'];
    for (const [record, free] of [
      [imported, about],
      [measured, [...about, 'window', 'operator', 'seed']],
      [measuredCrossed, about],
    ] as const) {
      const text = signedFile(record);
      const rows = rowsOfFile(text);
      const places = rows.flatMap((cells, index) =>
        index > 0 && index < rows.length - 2 && !free.includes(cells[1] ?? '') ? [index] : [],
      );
      fc.assert(
        fc.property(
          fc.constantFrom(...places),
          fc.nat(STUDY_COLUMNS.length - 1),
          fc.constantFrom('x', '1', '17', '0.5', '=1', '"', '-', 'crossed'),
          (index, column, to) => {
            fc.pre(rows[index]?.[column] !== to);
            refusal(
              forged(text, (changed) => {
                (changed[index] as string[])[column] = to;
              }),
            );
          },
        ),
        { numRuns: 150 },
      );
    }
  });
});

describe('figures', () => {
  it.each([
    [0, '0'],
    [1, '1.00000'],
    [-0.000123456789, '-0.000123457'],
    [123456789, '123457000'],
    [99999.96, '100000'],
    [9.999996, '10.0000'],
    [1e-12, '0.00000000000100000'],
    [null, ''],
  ])('%j has 6 significant digits: %s', (value, text) => expect(figure(value)).toBe(text));

  it('of degrees of freedom stay whole where they are', () => {
    expect(degrees(150)).toBe('150');
    expect(degrees(26.122448979588)).toBe('26.1224');
  });
});
