import { describe, expect, it } from 'vitest';
import { BENCH_KIND } from '../../../core/certificate/format.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { decidedRun, METER, readyRun, SIMULATED, walk, withReadings } from '../inspection/walk.ts';
import { acceptedRun, certificateBytes, closedBy, forged, openRows, refusal, refusedRun, set } from './files.ts';

const MANY = { timeout: 60_000 };

/** Bytes with the first place of some Latin-1 text replaced. */
function replaced(bytes: Buffer, text: string, by: string): Buffer {
  const place = bytes.indexOf(text, 0, 'latin1');
  return Buffer.concat([bytes.subarray(0, place), Buffer.from(by, 'latin1'), bytes.subarray(place + text.length)]);
}

describe('a forged file whose digest fits', () => {
  it('is told from one that was only closed anew', () => {
    expect(verifyCertificate(forged(openRows(acceptedRun()))).disposition).toBe('accepted');
  });

  const one: [string, string, string, string][] = [
    // verdicts and readings
    ['reading', '6', 'verdict', 'pass'],
    ['reading', '1', 'verdict', 'fail-low'],
    ['reading', '1', 'verdict', 'good'],
    ['reading', '1', 'ohms', '4700'],
    ['reading', '2', 'ohms', '4699.5'],
    ['reading', '6', 'ohms', '4747.00'],
    ['reading', '6', 'meter_text', '+4.74700E+03'],
    ['reading', '6', 'meter_text', 'about 4700'],
    ['reading', '6', 'meter_text', '9.91E37'],
    ['reading', '6', 'meter_text', '-4.7E3'],
    ['reading', '6', 'item', '7'],
    ['reading', '6', 'piece', '6'],
    ['reading', '6', 'piece', '4'],
    ['reading', '6', 'piece', '0'],
    ['reading', '6', 'piece', '-1'],
    ['reading', '6', 'at', 'yesterday'],
    ['reading', '6', 'at', '2026-03-02T13:05:09'],
    ['reading', '3', 'verdict', 'pass'],
    ['reading', '3', 'text', 'no reason'],
    ['void', '3', 'text', ''],
    ['void', '3', 'by', ' '],
    ['void', '3', 'item', '7'],
    ['void', '3', 'item', 'three'],
    ['check', 'shorted-leads', 'zero_ohms', '0.1'],
    ['check', 'shorted-leads', 'verdict', 'failed'],
    ['check', 'shorted-leads', 'verdict', 'fine'],
    ['check', 'shorted-leads', 'text', 'good leads'],
    ['check', 'reference', 'verdict', 'waived'],
    ['check', 'reference', 'by', ''],
    ['check', 'no-voltage', 'item', 'ambient'],
    ['check', 'no-voltage', 'item', 'looks'],
    ['check', 'ambient', 'at', '2026-03-02T18:05:09+00:00'],
    ['found', 'dc-volts', 'volts', '0'],
    ['summary', 'suspect readings', 'text', '1'],
    ['summary', 'calibration', 'text', 'in date'],
    ['summary', 'checks done', 'text', '7'],
    ['summary', 'checks failed', 'text', '1'],
    ['summary', 'checks waived', 'text', '1'],
    ['summary', 'checks by word', 'text', '1'],
    ['meter', 'measures', 'text', 'ohms'],
    ['meter', 'limit of error both', 'text', 'exact'],
    ['meter', 'limit of error both', 'ohms', '0'],
    ['measurement', 'checks hold for readings', 'text', '0'],
    ['reading', '1', 'zero_ohms', '0.2'],
    ['reading', '1', 'text', 'looks good'],
    ['reading', '1', 'percent', '100'],
    // window
    ['part', 'nominal', 'ohms', '4750'],
    ['part', 'nominal', 'ohms', ''],
    ['part', 'tolerance above', 'percent', '2'],
    ['part', 'window', 'upper_ohms', '4748'],
    ['part', 'window', 'lower_ohms', ''],
    // plan
    ['lot', 'size', 'pieces', '4'],
    ['lot', 'size', 'pieces', '0'],
    ['plan', 'sample size', 'pieces', '4'],
    ['plan', 'acceptance number', 'pieces', '0'],
    ['plan', 'rejection number', 'pieces', '3'],
    ['plan', 'every piece', 'text', 'yes'],
    // tally and statistics
    ['summary', 'counted', 'pieces', '6'],
    ['summary', 'pass', 'pieces', '5'],
    ['summary', 'fail high', 'pieces', '0'],
    ['summary', 'nonconforming', 'pieces', '0'],
    ['summary', 'void readings', 'text', '0'],
    ['summary', 'lowest', 'ohms', '4660'],
    ['summary', 'mean', 'ohms', '4700'],
    ['summary', 'by the plan', 'text', 'not-accept'],
    // disposition
    ['disposition', 'disposition', 'text', 'not-accepted'],
    ['disposition', 'disposition', 'text', 'sold'],
    // form
    ['certificate', 'format', 'text', 'Reelohm certificate 99'],
    ['certificate', 'run', 'text', '0'],
    ['bench', 'kind', 'text', 'best meter'],
    ['bench', 'kind', 'text', 'no meter was connected'],
    ['lot', 'supplier', 'text', '=1+1'],
    ['lot', 'supplier', 'item', 'vendor'],
  ];
  it.each(one)('is refused with %s, %s, %s "%s", and the row is named', (row, item, column, value) => {
    const rows = openRows(acceptedRun());
    const number = set(rows, row, item, column, value);
    const said = refusal(forged(rows));
    // Where the forger changed what other rows follow from, the first row that no longer follows may be named instead.
    const named = Number(/row (\d+)/.exec(said)?.[1]);
    expect(named).toBeGreaterThan(1);
    const follows = [
      'nominal',
      'tolerance above',
      'sample size',
      'acceptance number',
      'size',
      'kind',
      'meter_text',
      'ohms',
    ];
    if (!follows.includes(item) && !follows.includes(column)) expect(named).toBe(number);
  });

  it('is refused at the verdict although tally and disposition were forged to fit', () => {
    const rows = openRows(refusedRun());
    const number = set(rows, 'reading', '3', 'verdict', 'pass');
    set(rows, 'summary', 'pass', 'pieces', '2');
    set(rows, 'summary', 'fail low', 'pieces', '0');
    set(rows, 'summary', 'nonconforming', 'pieces', '1');
    set(rows, 'summary', 'by the plan', 'text', 'undecided');
    set(rows, 'disposition', 'disposition', 'text', 'on-hold');
    expect(refusal(forged(rows))).toMatch(new RegExp(`row ${number}: verdict is "pass".*"fail-low"`));
  });

  it('is refused when the lot is accepted before the sample is complete', () => {
    let run = withReadings(readyRun(), '4700', '4700', '4700');
    run = walk(run, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    // That it was on hold is left out as well.
    const rows = openRows(run).filter(([row]) => row !== 'hold');
    const number = set(rows, 'disposition', 'disposition', 'text', 'accepted');
    expect(refusal(forged(rows))).toContain(
      `row ${number}: accepted against the plan: 0 nonconforming in 3 of 5 pieces`,
    );
  });

  it('is refused when a lot is put on hold for no reason', () => {
    const rows = openRows(acceptedRun());
    set(rows, 'disposition', 'disposition', 'text', 'on-hold');
    expect(refusal(forged(rows))).toContain(`row ${rows.length - 1}: a lot on hold must have a reason`);
  });

  it.each([1, 2, 4, 5, 6])('is refused with reading %i dropped', (reading) => {
    const rows = openRows(acceptedRun());
    const index = rows.findIndex((cells) => cells[0] === 'reading' && cells[1] === String(reading));
    rows.splice(index, 1);
    expect(refusal(forged(rows))).toMatch(/row \d+/);
  });

  it.each([
    ['found', 'dc-volts', 'item', 'word', 'The check "no-voltage" is measured'],
    ['found', 'dc-volts', 'meter_text', '+5.0E+00', 'said to be passed, but what was shown gives failed: 5.0 V DC'],
    ['found', 'identity', 'meter_text', 'Another,Meter,1,1', 'gives failed: '],
    ['measurement', 'method', 'text', '4-wire', 'gives failed: '],
    ['measurement', 'checks hold for readings', 'text', '2', 'hold no longer: 2 readings'],
    ['measurement', 'ambient to', 'celsius', '22', 'gives failed: '],
    ['meter', 'calibration due', 'text', '2026-03-01', 'was due on 2026-03-01'],
    ['reference', 'uncertainty', 'ohms', '0.06', 'allowed are'],
    ['reference', 'due', 'text', '2026-03-01', 'was due on 2026-03-01'],
    ['reference', 'due', 'text', 'never', 'expected a day'],
  ] as const)('is refused with %s, %s, %s "%s", where it no longer follows', (row, item, column, value, said) => {
    const rows = openRows(acceptedRun());
    set(rows, row, item, column, value);
    expect(refusal(forged(rows))).toContain(said);
  });

  it('is refused with a void row for another reading', () => {
    const rows = openRows(acceptedRun());
    set(rows, 'void', '3', 'item', '2');
    expect(refusal(forged(rows))).toMatch(/row \d+: verdict is "pass", but the other rows give "void"/);
  });

  it('is refused with a bad reading dropped, the others renumbered and a made-up one at the end', () => {
    const rows = openRows(acceptedRun()).filter((cells) => cells[0] !== 'void');
    const index = rows.findIndex((cells) => cells[0] === 'reading' && cells[1] === '3');
    rows.splice(index, 1);
    for (const [place, cells] of rows.filter((cells) => cells[0] === 'reading').entries()) cells[1] = String(place + 1);
    expect(refusal(forged(rows))).toMatch(/void readings|row \d+: text is "1", but the other rows give "0"/);
  });

  it('is refused with a reading after the plan needed none', () => {
    const rows = openRows(refusedRun());
    const index = rows.findIndex((cells) => cells[0] === 'reading' && cells[1] === '3');
    const more = [...(rows[index] ?? [])];
    more[1] = '4';
    more[4] = '4';
    rows.splice(index + 1, 0, more);
    expect(refusal(forged(rows))).toContain(`row ${index + 2}: The plan needs no further piece`);
  });

  it('is refused with readings of a bench nobody confirmed', () => {
    const rows = openRows(acceptedRun()).filter((cells) => cells[0] !== 'bench' || cells[1] === 'kind');
    expect(refusal(forged(rows))).toMatch(/row \d+: The bench of this run is not ready yet/);
  });

  it.each([
    ['lot', 'received by', 'text', ''],
    ['lot', 'number', 'text', ' '],
    ['part', 'number', 'text', ''],
    ['bench', 'cautions confirmed by', 'text', ''],
    ['disposition', 'by', 'text', ''],
    ['meter', 'integration time in mains cycles', 'text', 'banana'],
    ['meter', 'integration time in mains cycles', 'text', '0'],
    ['meter', 'range', 'ohms', ''],
    ['meter', 'range', 'ohms', '-5'],
  ] as const)('is refused with a %s, %s whose %s is "%s"', (row, item, column, value) => {
    const rows = openRows(acceptedRun());
    const number = set(rows, row, item, column, value);
    expect(refusal(forged(rows))).toContain(`row ${number}: `);
  });

  it('tells the simulated bench by its maker and model, both ways', () => {
    const alike = { ...METER.identity, text: 'Generic,Simulated bench,1,1' };
    expect(verifyCertificate(certificateBytes(acceptedRun({}, { ...METER, identity: alike }))).simulated).toBe(false);
    const rows = openRows(acceptedRun());
    const number = set(rows, 'bench', 'kind', 'text', BENCH_KIND.simulated);
    expect(refusal(forged(rows))).toContain(`row ${number}: readings of a real meter are passed off`);
  });

  it('is refused when practice is passed off as the real thing', () => {
    const rows = openRows(acceptedRun({}, SIMULATED));
    const number = set(rows, 'bench', 'kind', 'text', 'real meter');
    expect(refusal(forged(rows))).toContain(`row ${number}: practice on the simulated bench is passed off`);
  });

  it('is refused with a plan the standard does not give', () => {
    // MIL-STD-105E, Tables I and II-A: 100 pieces, level II, AQL 4.0: letter F, 20 pieces, Ac 2, Re 3.
    let run = readyRun({ plan: { aql: '4.0' } });
    run = withReadings(run, ...Array<string>(20).fill('4700.0'));
    run = decidedRun(run, 'accepted');
    expect(verifyCertificate(certificateBytes(run)).checked.join()).toContain('Sample 20, Ac 2, Re 3');
    for (const [item, column, value] of [
      ['AQL', 'percent', '2.5'],
      ['AQL', 'percent', '4'],
      ['AQL', 'percent', '15'],
      ['inspection level', 'text', 'III'],
      ['inspection level', 'text', 'IV'],
      ['code letter', 'text', 'E'],
      ['plan letter', 'text', 'G'],
      ['sample size', 'pieces', '13'],
      ['acceptance number', 'pieces', '3'],
      ['chosen by', 'text', 'agreed numbers'],
    ] as const) {
      const rows = openRows(run);
      set(rows, 'plan', item, column, value);
      expect(refusal(forged(rows)), `${item} ${value}`).toMatch(/row \d+/);
    }
  });

  it('is refused with a row more, a row less or rows in another order', MANY, () => {
    const rows = openRows(acceptedRun());
    for (let index = 0; index < rows.length; index += 1) {
      // Which cautions were confirmed and which other ranges the meter has follow from nothing else on the certificate.
      if (rows[index]?.[1] === 'caution' || rows[index]?.[1] === 'limit of error both') continue;
      expect(refusal(forged(rows.toSpliced(index, 1)))).toMatch(/row \d+|its form/);
      expect(refusal(forged(rows.toSpliced(index, 0, rows[index] ?? [])))).toMatch(/row \d+|its form/);
      const [before, here] = [rows[index - 1], rows[index]];
      // In which order one thing was read several times follows from nothing either.
      const together = here?.[0] === 'found' && before?.[1] === here[1];
      if (before && here && !together && before.join() !== here.join())
        expect(refusal(forged(rows.toSpliced(index - 1, 2, here, before)))).toMatch(/row \d+|its form/);
    }
  });

  it('is refused where cells are quoted without need, rows uneven, or bytes are no UTF-8', () => {
    const rows = openRows(acceptedRun());
    rows[5]?.push('');
    expect(refusal(forged(rows))).toContain('its form');

    const text = Buffer.from(certificateBytes(acceptedRun())).toString();
    const body = text.slice(0, text.lastIndexOf('digest,'));
    expect(refusal(closedBy(Buffer.from(body.replace('Ines Okoro', '"Ines Okoro"'))))).toContain('its form');
    expect(refusal(closedBy(replaced(Buffer.from(body), 'Ines Okoro', 'Ines \xE9')))).toContain('its form');
    expect(refusal(closedBy(Buffer.from(`${body}\r\n`)))).toMatch(/its form|row/);
    expect(refusal(closedBy(Buffer.from(`\uFEFF${body}`)))).toContain('row 1');
  });

  it('says nothing that steers a terminal or breaks its one line', () => {
    const rows = openRows(acceptedRun());
    set(rows, 'bench', 'kind', 'text', `\u001b[2J\r\n${'x'.repeat(5000)}`);
    const said = refusal(forged(rows));
    expect(said).not.toMatch(/\p{Cc}/u);
    expect(said.length).toBeLessThan(500);
  });
});
