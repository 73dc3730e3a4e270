import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { nextPosition, type Run } from '../../../core/inspection/run.ts';
import { SIGNER } from '../../signer.ts';
import { decidedRun, readyRun, walk, withReadings } from '../inspection/walk.ts';
import { ABOUT, acceptedRun, bytesOf, certificateBytes, forged, openRows, refusal, rowsOfFile, set } from './files.ts';

/** A lot of 3000 that rises along its reel; piece 3 is taken one further on, piece 5 is measured again. */
function reelRun(positions: LotClaimInput['positions']): Run {
  let run = readyRun({ positions, lot: { number: 'L', size: 3000 }, plan: { sampleSize: 20, accept: 19 } });
  const measure = () => {
    run = withReadings(run, (4700 + 0.02 * (nextPosition(run) as number)).toFixed(2));
  };
  for (let piece = 1; piece <= 20; piece++) {
    if (piece === 3) run = walk(run, { type: 'say-position', position: (nextPosition(run) as number) + 1 });
    measure();
    if (piece !== 5) continue;
    run = walk(run, { type: 'void-reading', reading: 5, by: 'Ines Okoro', reason: 'slipped' });
    measure();
  }
  return decidedRun(run, 'accepted');
}
const randomRun = () => reelRun({ kind: 'random', seed: 2026 });
const spreadRun = () => reelRun({ kind: 'spread' });

/** The cells of one column in all rows of readings. */
function column(rows: string[][], name: string): string[] {
  const place = rows[0]?.indexOf(name) ?? -1;
  return rows.filter(([row]) => row === 'reading').map((cells) => cells[place] ?? '');
}

describe('a certificate of a lot whose positions are known', () => {
  it('has where each piece was asked for and where it was taken, and holds', () => {
    // Of a block of neighbours the next piece has to give way, too.
    for (const [run, elsewhere] of [
      [randomRun(), 1],
      [spreadRun(), 2],
    ] as const) {
      const facts = verifyCertificate(certificateBytes(run));
      expect(facts.checked.join('\n')).toContain('each position anew');
      const rows = openRows(run);
      const [asked, taken] = [column(rows, 'asked_position'), column(rows, 'position')];
      expect(Number(taken[2])).toBe(Number(asked[2]) + 1);
      expect(asked[4]).toBe(asked[5]);
      expect(asked.filter((at, index) => at !== taken[index])).toHaveLength(elsewhere);
      expect(rows).toContainEqual(
        expect.arrayContaining(['summary', 'taken elsewhere than asked for', String(elsewhere)]),
      );
    }
  });

  it('has no positions where none are known', () => {
    const rows = openRows(acceptedRun());
    expect(new Set([...column(rows, 'asked_position'), ...column(rows, 'position')])).toEqual(new Set(['']));
    expect(verifyCertificate(certificateBytes(acceptedRun())).disposition).toBe('accepted');
  });

  it('names the first position that does not follow from a forged seed', () => {
    const rows = openRows(randomRun());
    set(rows, 'positions', 'seed', 'number', '2027');
    const first = rows.findIndex(([row]) => row === 'reading') + 1;
    expect(refusal(forged(rows))).toContain(`row ${first}: asked_position is`);
  });

  it.each([
    ['1', 'asked_position', '17'],
    ['7', 'asked_position', ''],
    ['7', 'position', ''],
    ['7', 'position', '0'],
    ['7', 'position', '3001'],
    ['7', 'position', 'here'],
  ])('is refused at reading %s with %s "%s"', (reading, name, value) => {
    for (const runOf of [randomRun, spreadRun]) {
      const rows = openRows(runOf());
      const number = set(rows, 'reading', reading, name, value);
      expect(refusal(forged(rows))).toContain(`row ${number}: `);
    }
  });

  it('is refused where two pieces are of one position', () => {
    const rows = openRows(randomRun());
    const taken = column(rows, 'position');
    const number = set(rows, 'reading', '7', 'position', taken[0] ?? '');
    expect(refusal(forged(rows))).toContain(`row ${number}: Piece 1 was taken at position ${taken[0]} already`);
  });

  it('is refused with any position altered, whatever it is altered to', () => {
    for (const runOf of [randomRun, spreadRun]) {
      const text = certificateOf(runOf(), ABOUT, SIGNER);
      const lines = text.split('\r\n');
      const taken = column(rowsOfFile(text), 'position');
      const altered = lines.flatMap((line, index) => {
        const was = line.startsWith('reading,') ? taken.shift() : undefined;
        if (was === undefined || was === '') return [];
        return [String(Number(was) + 1), '1', '2999', ''].flatMap((to) => {
          const changed = line.replace(new RegExp(`,${was}(?=,\\d)`), `,${to}`);
          return changed === line ? [] : [lines.with(index, changed).join('\r\n')];
        });
      });
      expect(altered.length).toBeGreaterThan(60);
      for (const each of altered) expect(refusal(bytesOf(each))).toMatch(/digest/);
    }
  });

  it('is refused where a piece that counts is moved away from where it was asked for, though a forger made the digest anew', () => {
    // Five readings of no trend, so that no other figure tells of it.
    let run = readyRun({ positions: { kind: 'random', seed: 3 }, lot: { number: 'L', size: 3000 } });
    run = decidedRun(withReadings(run, '4700', '4700', '4700', '4700', '4700'), 'accepted');
    for (const { reading, position } of run.readings) {
      for (const to of [1, (position as number) - 1, (position as number) + 1, 3000]) {
        const rows = openRows(run);
        set(rows, 'reading', String(reading), 'position', String(to));
        expect(refusal(forged(rows))).toMatch(/row \d+: /);
      }
    }
  });

  it('is refused where a piece is moved along the reel: its trend is another one', () => {
    const rows = openRows(randomRun());
    set(rows, 'reading', '9', 'position', '2998');
    expect(refusal(forged(rows))).toMatch(/^.*row \d+: /);
  });

  it.each([
    ['positions', 'chosen by', 'text', 'as-taken'],
    ['positions', 'chosen by', 'text', 'spread'],
    ['positions', 'chosen by', 'text', 'by liking'],
    ['positions', 'seed', 'number', '4294967296'],
    ['positions', 'seed', 'number', '-1'],
    ['positions', 'seed', 'number', ''],
    ['summary', 'taken elsewhere than asked for', 'pieces', '0'],
  ])('is refused with %s, %s, %s "%s"', (row, item, name, value) => {
    const rows = openRows(randomRun());
    set(rows, row, item, name, value);
    expect(refusal(forged(rows))).toMatch(/row \d+/);
  });

  it('is refused with a position where none are known', () => {
    const rows = openRows(acceptedRun());
    const number = set(rows, 'reading', '1', 'position', '4');
    expect(refusal(forged(rows))).toContain(`row ${number}: `);
  });

  it('says where its trend leaves the window by position', () => {
    const rows = openRows(randomRun());
    const leaves = rows.find(([, item]) => item === 'trend, leaves the window at');
    const at = (name: string) => leaves?.[rows[0]?.indexOf(name) ?? -1];
    expect(Number(at('position'))).toBeGreaterThan(2340);
    expect(Number(at('position'))).toBeLessThan(2360);
    expect(at('piece')).toBe('');
  });
});
