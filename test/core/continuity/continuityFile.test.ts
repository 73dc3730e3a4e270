import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { describe, expect, it } from 'vitest';
import { signed } from '../../../core/certificate/closedFile.ts';
import { type ContinuityRecord, continuityFile } from '../../../core/continuity/continuityFile.ts';
import { CONTINUITY_CLOSED, CONTINUITY_COLUMNS, CONTINUITY_FORMAT } from '../../../core/continuity/continuityFormat.ts';
import { verifyContinuity } from '../../../core/continuity/verifyContinuity.ts';
import { SIGNER } from '../../signer.ts';
import { closedBy } from '../certificate/files.ts';
import { AT, Bench, OPEN, wiring } from './measured.ts';

/** A run with everything that can happen: invented. */
function eventful(): Bench {
  const csv =
    'from,to,expected,limit_ohms,state,note,wire\n=A1,B1,closed,1.5,,"a ""b"", c",W1\nA2,B2,,,,,\nA3,B3,,,,,\nL1,T1,closed,,Q1 on,,\nL1,T1,open,,Q1 off,,\n';
  const bench = new Bench(csv, { drawing: '+17', serial: '0042', checksEveryReadings: 4 });
  bench.connect().check().read(1, '-0.2E+00').read(2, '+2.1E+00').read(3, '+0.3E+00');
  bench.do({ type: 'void-reading', reading: 2, by: 'Ines Okoro', reason: 'tip slipped' });
  bench.check().read(2, '+0.3E+00');
  bench.check({ 'shorted-leads': [OPEN, OPEN, OPEN].map((raw) => ({ what: '2-wire' as const, raw })) });
  bench.check().read(2, '+0.31E+00');
  bench.do({ type: 'lapse', why: 'the meter was lost' });
  bench.connect().check();
  bench.do({ type: 'skip-point', point: 6, by: 'Ines Okoro', reason: '=none' });
  bench.do({ type: 'decide', disposition: 'on-hold', by: 'Ines Okoro', reason: 'waits', approvedBy: null });
  bench.do({ type: 'lift-hold', by: 'Bo Lind', reason: 'goes on' });
  bench.all((point) => (point.state === 'Q1 on' ? '+0.4E+00' : wiring([['B1', 'A2']])(point)));
  return bench.do({
    type: 'decide',
    disposition: 'not-accepted',
    by: 'Ines Okoro',
    reason: 'one cannot be told',
    approvedBy: null,
  });
}

const record: ContinuityRecord = {
  version: '0.1.0',
  publicKey: SIGNER.publicKey,
  at: AT,
  number: 12,
  run: eventful().now,
};
const text = signed(continuityFile(record), CONTINUITY_CLOSED, SIGNER);
const bytes = (of: string) => new TextEncoder().encode(of);
const rows: string[][] = parse(text, { record_delimiter: '\r\n' });

/** The file closed and signed anew, as only who has the key of the station could. */
const forged = (changed: string[][]) =>
  closedBy(Buffer.from(stringify(changed, { record_delimiter: 'windows' })), SIGNER, CONTINUITY_FORMAT);

describe('the certificate of a continuity run', () => {
  it('is verified from the list and the texts of the meter alone', () => {
    const { record: read, publicKey, checked } = verifyContinuity(bytes(text));
    expect(publicKey).toBe(SIGNER.publicKey);
    expect(read.number).toBe(12);
    expect(read.run.readings.size).toBe(record.run.readings.size);
    expect(read.run.decided?.disposition).toBe('not-accepted');
    expect(checked).toHaveLength(4);
  });

  it('names no address of a meter, and no formula', () => {
    expect(text).not.toContain('127.0.0.1');
    for (const cell of rows.flat()) expect(cell).not.toMatch(/^[=@]/);
  });

  it('is refused when any byte is another', () => {
    const whole = bytes(text);
    for (let at = 0; at < whole.length; at += 97) {
      const changed = Uint8Array.from(whole);
      changed[at] = (changed[at] as number) ^ 1;
      expect(() => verifyContinuity(changed), `byte ${at}`).toThrow(/does not hold/);
    }
  });

  it('names the row when a cell that follows from the others is changed and the file closed and signed anew', () => {
    const FOLLOWS = new Set([
      'ohms',
      'zero_ohms',
      'doubt_ohms',
      'found',
      'verdict',
      'reason',
      'expected',
      'point',
      'reading',
      'from',
      'to',
      'state',
      'origin',
      'text',
    ]);
    let changes = 0;
    for (const [row, cells] of rows.slice(0, -2).entries()) {
      const kind = cells[0] as string;
      if (!['result', 'net', 'matrix', 'summary', 'note', 'bound', 'event'].includes(kind)) continue;
      for (const [column, name] of CONTINUITY_COLUMNS.entries()) {
        const cell = cells[column] ?? '';
        if (cell === '' || !FOLLOWS.has(name)) continue;
        const isInput =
          kind === 'event' &&
          (['text', 'point', 'reading'].includes(name) ||
            (name === 'verdict' && cells[1] === 'decided') ||
            name === 'origin');
        if (isInput) continue;
        const changed = rows.slice(0, -2).map((each, index) => (index === row ? each.with(column, `${cell}0`) : each));
        expect(() => verifyContinuity(forged(changed)), `${row + 1} ${name}`).toThrow(`row ${row + 1}:`);
        changes++;
      }
    }
    expect(changes).toBeGreaterThan(300);
  });

  it('is refused when a reading says something else', () => {
    const at = rows.findIndex(
      (cells) => cells[1] === 'point-read' && cells[CONTINUITY_COLUMNS.indexOf('verdict')] === 'as-expected',
    );
    const column = CONTINUITY_COLUMNS.indexOf('meter_text');
    const changed = rows.slice(0, -2).map((cells, index) => (index === at ? cells.with(column, '+5.0E+02') : cells));
    expect(() => verifyContinuity(forged(changed))).toThrow(/row \d+: ohms is/);
  });

  it('is refused when an event or a point is missing', () => {
    for (const [row, cells] of rows.slice(0, -2).entries()) {
      if (!['point', 'event'].includes(cells[0] as string)) continue;
      // A second confirmation or a lapse just before the same meter comes back changes nothing that follows.
      if (['cautions-confirmed', 'checks-lapsed', 'meter-connected'].includes(cells[1] as string)) continue;
      const changed = rows.slice(0, -2).filter((_, index) => index !== row);
      expect(() => verifyContinuity(forged(changed)), `${row + 1} ${cells.join()}`).toThrow(/does not hold/);
    }
  });
});
