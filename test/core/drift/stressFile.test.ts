import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signed } from '../../../core/certificate/closedFile.ts';
import { stressResult } from '../../../core/drift/stress.ts';
import { STRESS_CLOSED } from '../../../core/drift/stressClosed.ts';
import { type StressRecord, stressFile } from '../../../core/drift/stressFile.ts';
import { STRESS_COLUMNS } from '../../../core/drift/stressFormat.ts';
import { parseStressLimit } from '../../../core/drift/stressLimit.ts';
import { verifyStress } from '../../../core/drift/verifyStress.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { SIGNER } from '../../signer.ts';
import { closedBy } from '../certificate/files.ts';

const signedFile = (record: StressRecord) => signed(stressFile(record), STRESS_CLOSED, SIGNER);
const bytes = (text: string) => new TextEncoder().encode(text);

/** Invented values: within, on the limit, beyond, opened, missing, open before and not measured again, open before, zero; extra ones. */
const record: StressRecord = {
  version: '0.1.0',
  publicKey: SIGNER.publicKey,
  by: 'Ines Okoro',
  at: '2026-11-25T10:00:00+01:00',
  beforeSource: '=before.csv',
  afterSource: 'run 12, lot "7", part 4k7',
  of: {
    treatment: 'load, 1 000 h at 70 °C',
    limit: parseStressLimit('0.25 % + 0.05 ohm'),
    before: [
      { piece: 1, ohms: '100.00', expandedOhms: '0.01' },
      { piece: '2', ohms: '100', expandedOhms: '0.01' },
      { piece: 3, ohms: '100', expandedOhms: '0.01' },
      { piece: '+4', ohms: '100' },
      { piece: 5, ohms: '100' },
      { piece: 6, ohms: null },
      { piece: 7, ohms: null },
      { piece: '008', ohms: '0' },
    ],
    after: [
      { piece: 21, ohms: '5', expandedOhms: '0.1' },
      { piece: 3, ohms: '101', expandedOhms: '0.01' },
      { piece: 2, ohms: '100.3', expandedOhms: '0.01' },
      { piece: 1, ohms: '100.010', expandedOhms: '0.01' },
      { piece: '+4', ohms: null },
      { piece: 7, ohms: '100' },
      { piece: 8, ohms: '0.0501' },
      { piece: 20, ohms: null },
    ],
  },
};

const text = signedFile(record);
const rowsIn = (file: string): string[][] => parse(file, { record_delimiter: '\r\n' });

/** The file with something changed and a digest that fits it again. */
function forged(change: (rows: string[][]) => void): Uint8Array {
  const rows = rowsIn(text).slice(0, -2);
  change(rows);
  return closedBy(Buffer.from(stringify(rows, { record_delimiter: 'windows' })), SIGNER, 'Reelohm stress 2');
}

function refusal(file: Uint8Array, what = 'the file'): string {
  try {
    verifyStress(file);
  } catch (thrown) {
    if (thrown instanceof Problem) return thrown.message;
    throw thrown;
  }
  throw new Error(`${what} is not refused`);
}

function place(rows: string[][], row: string, item: string): number {
  return rows.findIndex((cells) => cells[0] === row && cells[1] === item);
}

describe('the file of a comparison', () => {
  it('is CSV of equal rows, whose last but one is the SHA-256 of all before', () => {
    const rows = rowsIn(text);
    expect(rows.every((cells) => cells.length === STRESS_COLUMNS.length)).toBe(true);
    const body = text.slice(0, text.lastIndexOf('digest,sha-256,'));
    expect(rows.at(-2)?.[2]).toBe(createHash('sha256').update(body).digest('hex'));
    expect(text).not.toMatch(/[^\r]\n/);
  });

  it('has a row for every piece of either list, with its verdict', () => {
    const column = (name: (typeof STRESS_COLUMNS)[number]) => STRESS_COLUMNS.indexOf(name);
    const pieces = rowsIn(text).filter(([row]) => row === 'piece');
    expect(pieces.map((cells) => [cells[column('piece')], cells[column('verdict')], cells[column('sure')]])).toEqual([
      ['1', 'within', 'yes'],
      ['2', 'within', 'no'],
      ['3', 'beyond', 'yes'],
      ["'+4", 'beyond', ''],
      ['5', 'missing', ''],
      ['6', 'open-before', ''],
      ['7', 'open-before', ''],
      ['8', 'beyond', ''],
      ['21', 'extra', ''],
      ['20', 'extra', ''],
    ]);
  });

  it('is verified, and says again what was put in', () => {
    const { record: again, result, sha256, checked } = verifyStress(bytes(text));
    expect(result).toEqual(stressResult(record.of));
    expect(sha256).toBe(createHash('sha256').update(text).digest('hex'));
    expect(again).toMatchObject({
      by: record.by,
      at: record.at,
      beforeSource: '=before.csv',
      afterSource: record.afterSource,
    });
    expect(again.of.treatment).toBe(record.of.treatment);
    expect(checked.length).toBeGreaterThan(2);
  });

  it('is refused when any one byte is changed', () => {
    const whole = bytes(text);
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (index, by) => {
        const changed = whole.slice();
        changed[index] = (changed[index] as number) ^ by;
        expect(refusal(changed)).toContain('[stress-broken]');
      }),
    );
    expect(refusal(whole.slice(0, -1))).toContain('the digest');
    expect(refusal(new Uint8Array())).toContain('the digest');
  });

  it('is refused with the first cell that does not follow, though its digest fits', () => {
    const rows = rowsIn(text);
    const third = place(rows, 'piece', '3');
    const verdict = STRESS_COLUMNS.indexOf('verdict');
    const flipped = forged((all) => {
      (all[third] as string[])[verdict] = 'within';
    });
    expect(refusal(flipped)).toContain(`row ${third + 1}: verdict is "within", but the values give "beyond"`);
    const wider = forged((all) => {
      (all[place(all, 'stress', 'limit')] as string[])[2] = '±(2 % + 0.05 Ω)';
    });
    expect(refusal(wider)).toMatch(/row \d+: limit_ohms is "0.3", but the values give "2.05"/);
  });

  it('is refused when any one cell is forged that follows from the others', () => {
    const rows = rowsIn(text).slice(0, -2);
    // What was put in: a file may truly say it otherwise, and then does, if nothing that follows from it changes.
    const said = new Set(['program version', 'made by', 'source before', 'source after']);
    const given = new Set(['piece', 'before_ohms', 'before_expanded_ohms', 'after_ohms', 'after_expanded_ohms']);
    const isPutIn = ([row, item = '']: string[], column: number) =>
      (row === 'stress' && said.has(item) && column === 2) ||
      (row === 'piece' && given.has(STRESS_COLUMNS[column] as string));
    let followed = 0;
    for (const [index, cells] of rows.entries()) {
      for (const column of STRESS_COLUMNS.keys()) {
        if (isPutIn(cells, column)) continue;
        const file = forged((all) => {
          (all[index] as string[])[column] = `${cells[column]}1`;
        });
        expect(refusal(file, `row ${index + 1}, ${STRESS_COLUMNS[column]}`)).toContain('[stress-broken]');
        followed++;
      }
    }
    expect(followed).toBeGreaterThan(300);
  });

  it('is refused when a value is forged on which a change rests', () => {
    const rows = rowsIn(text).slice(0, -2);
    for (const piece of ['1', '2', '3']) {
      for (const column of ['before_ohms', 'after_ohms'] as const) {
        const row = place(rows, 'piece', piece);
        const file = forged((all) => {
          const cells = all[row] as string[];
          cells[STRESS_COLUMNS.indexOf(column)] = '99.5';
        });
        expect(refusal(file)).toMatch(/row \d+: change_ohms is/);
      }
    }
  });

  it('is refused with a row left out, twice, or too many', () => {
    const count = rowsIn(text).length - 2;
    for (let index = 0; index < count; index++) {
      expect(refusal(forged((rows) => void rows.splice(index, 1)))).toContain('[stress-broken]');
      expect(refusal(forged((rows) => void rows.splice(index, 0, rows[index] as string[])))).toContain(
        '[stress-broken]',
      );
    }
  });
});
