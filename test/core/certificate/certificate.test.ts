import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { Command } from '../../../core/inspection/decide.ts';
import { METER, measuredFrom, readyRun, timeAt, walk, withReadings } from '../inspection/walk.ts';
import { ABOUT, acceptedRun, bytesOf, certificateBytes, refusedRun, rowsOfFile } from './files.ts';

const text = certificateOf(acceptedRun(), ABOUT);
const rows = rowsOfFile(text);
const header = rows[0] ?? [];

/** The cells of the first row with this row and item, by column. */
function fact(row: string, item: string, of = rows): Record<string, string> {
  const found = of.find((cells) => cells[0] === row && cells[1] === item) ?? [];
  return Object.fromEntries(header.map((column, index) => [column, found[index] ?? '']));
}

describe('the file of a certificate', () => {
  it('is RFC 4180: CRLF after every row, no mark in front, all rows of one length, header first', () => {
    expect(
      text.startsWith('row,item,text,piece,pieces,ohms,lower_ohms,upper_ohms,percent,verdict,meter_text,at\r\n'),
    ).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(text.endsWith('\r\n')).toBe(true);
    for (const cells of rows) expect(cells).toHaveLength(header.length);
  });

  it('ends with the SHA-256 of all bytes before its last row', () => {
    const start = text.lastIndexOf('digest,');
    const digest = createHash('sha256').update(text.slice(0, start)).digest('hex');
    expect(text.slice(start)).toBe(`digest,sha-256,${digest},,,,,,,,,\r\n`);
  });

  it('says what was received, against what, with what and how it went', () => {
    expect(fact('certificate', 'run').text).toBe('7');
    expect(fact('certificate', 'program version').text).toBe('0.1.0');
    expect(fact('bench', 'kind').text).toBe('real meter');
    expect(fact('bench', 'cautions confirmed by').text).toBe('Ines Okoro');
    expect(fact('lot', 'size').pieces).toBe('100');
    expect(fact('lot', 'received by')).toMatchObject({ text: 'Ines Okoro', at: timeAt(0) });
    expect(fact('part', 'nominal').ohms).toBe('4700');
    expect(fact('part', 'tolerance above').percent).toBe('1');
    expect(fact('part', 'window')).toMatchObject({ lower_ohms: '4653', upper_ohms: '4747' });
    expect(fact('meter', 'identity').text).toBe(METER.identity.text);
    expect(fact('plan', 'sample size').pieces).toBe('5');
    expect(fact('plan', 'rejection number').pieces).toBe('2');
    expect(fact('disposition', 'disposition')).toMatchObject({ text: 'accepted' });
  });

  it('has every reading with all digits the meter gave, the void one too', () => {
    const readings = rows.filter((cells) => cells[0] === 'reading').map((cells) => cells.slice(1, 11));
    expect(readings).toEqual([
      ['1', '', '1', '', '4702.13', '', '', '', 'pass', '+4.70213E+03'],
      ['2', '', '2', '', '4699.50', '', '', '', 'pass', '+4.69950E+03'],
      [
        '3',
        expect.stringMatching(/^probe slipped \(by Ines Okoro at 2026-03-02T\d\d:\d\d:\d\d\.\d{3}\+00:00\)$/),
        '3',
        '',
        '4100.00',
        '',
        '',
        '',
        'void',
        '+4.10000E+03',
      ],
      ['4', '', '3', '', '4701.00', '', '', '', 'pass', '+4.70100E+03'],
      ['5', '', '4', '', '4653', '', '', '', 'pass', '+4653'],
      ['6', '', '5', '', '4747.01', '', '', '', 'fail-high', '+4.74701E+03'],
    ]);
  });

  it('sums up what counts: (4702.13 + 4699.50 + 4701.00 + 4653 + 4747.01) / 5 = 4700.528', () => {
    expect(fact('summary', 'counted').pieces).toBe('5');
    expect(fact('summary', 'pass').pieces).toBe('4');
    expect(fact('summary', 'fail high').pieces).toBe('1');
    expect(fact('summary', 'nonconforming').pieces).toBe('1');
    expect(fact('summary', 'void readings').text).toBe('1');
    expect(fact('summary', 'lowest').ohms).toBe('4653');
    expect(fact('summary', 'highest').ohms).toBe('4747.01');
    expect(fact('summary', 'mean')).toMatchObject({ ohms: '4700.5280', text: 'rounded to 4 decimals, half to even' });
    expect(fact('summary', 'by the plan').text).toBe('accept');
  });

  it('has no value for an open piece', () => {
    const refused = rowsOfFile(certificateOf(refusedRun(), ABOUT));
    expect(fact('reading', '2', refused)).toMatchObject({ ohms: '', verdict: 'open', meter_text: '+9.90000000E+37' });
    expect(fact('summary', 'open', refused).pieces).toBe('1');
    expect(fact('summary', 'lowest', refused).ohms).toBe('4652.9');
  });

  it('says near the top and plainly that a simulated bench was used', () => {
    const identity = { ...METER.identity, text: 'Reelohm,Simulated bench,1,0.1.0', simulated: true };
    const simulated = rowsOfFile(certificateOf(acceptedRun({}, { ...METER, identity }), ABOUT));
    const at = simulated.findIndex((cells) => cells[1] === 'kind');
    expect(at).toBeLessThan(6);
    expect(simulated[at]?.[2]).toBe('simulated bench: practice, not an inspection of real pieces');
  });

  it('does not depend on how the meter was reached', () => {
    const serial = acceptedRun({}, { ...METER, address: '/dev/ttyUSB0' });
    expect(certificateOf(serial, ABOUT)).toBe(text);
    expect(text).not.toContain(METER.address);
  });

  it('is refused before the lot is decided', () => {
    expect(() => certificateOf(readyRun(), ABOUT)).toThrowError(expect.objectContaining({ code: 'run-undecided' }));
  });
});

describe('an intact certificate', () => {
  it('is verified, with what was worked out anew in words', () => {
    const bytes = certificateBytes(acceptedRun());
    const found = verifyCertificate(bytes);
    expect(found).toMatchObject({
      run: 7,
      lot: 'L-2093',
      part: 'TF-4K7-1',
      disposition: 'accepted',
      simulated: false,
      readings: 6,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    });
    expect(found.checked.join('\n')).toMatch(/4653 to 4747 Ω.*Sample 5, Ac 1, Re 2.*6 readings.*1 nonconforming/s);
    expect(verifyCertificate(certificateBytes(refusedRun())).disposition).toBe('not-accepted');
  });

  it('may be of a lot put on hold before any meter was there', () => {
    const onHold: Command = { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'label unreadable' };
    const received = walk(null, { type: 'receive-lot', facts: readyRun() }, onHold);
    expect(rowsOfFile(certificateOf(received, ABOUT)).some((cells) => cells[2] === 'no meter was connected')).toBe(
      true,
    );
    expect(verifyCertificate(certificateBytes(received))).toMatchObject({ disposition: 'on-hold', readings: 0 });
  });

  it('keeps the confirmations of earlier connections', () => {
    let run = withReadings(readyRun(), '4700', '4700');
    run = walk(run, { type: 'connect-meter', meter: METER });
    run = walk(run, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    const written = certificateOf(run, ABOUT);
    expect(rowsOfFile(written).filter((cells) => cells[1] === 'cautions confirmed by')).toHaveLength(1);
    expect(verifyCertificate(bytesOf(written)).readings).toBe(2);
  });

  it('is verified for every kind of window and plan', () => {
    const parts = [
      { nominal: '4k7', tolerance: '+2 -1 %' },
      { nominal: '4k7', tolerance: '47 ohm' },
      { nominal: '4700', tolerance: '+50 -47 ohm' },
      { nominal: '', tolerance: '4653 to 4800' },
      { nominal: '4k7', tolerance: '>= 4653' },
      { nominal: '', tolerance: '<= 4747' },
    ];
    const plans = [
      { sampleSize: 5, accept: 1 },
      { aql: '10', level: 'S-1' as const },
    ];
    for (const part of parts) {
      for (const plan of plans) {
        let run = readyRun({ part: { number: 'P', ...part }, plan, lot: { number: 'L', size: 3 + 5 } });
        run = withReadings(run, ...Array<string>(run.plan.sampleSize).fill('4700.0'));
        run = walk(run, { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: '' });
        expect(verifyCertificate(certificateBytes(run)).disposition).toBe('accepted');
      }
    }
  });

  it('comes of every run that can be decided (property)', { timeout: 60_000 }, () => {
    const raw = fc.constantFrom(
      '+4.70213E+03',
      '4700',
      '4653',
      '4652.99',
      '4.7471e3',
      '9.9E37',
      ' +4.70000000E+03',
      '.5',
    );
    const step = fc.oneof(
      { weight: 5, arbitrary: raw.map((text): Command => ({ type: 'record-reading', measured: measuredFrom(text) })) },
      {
        weight: 2,
        arbitrary: fc.record({
          type: fc.constant('void-reading' as const),
          reading: fc.integer({ min: 1, max: 12 }),
          by: fc.string({ unit: 'grapheme', minLength: 1 }),
          reason: fc.string({ unit: 'grapheme', minLength: 1 }),
        }),
      },
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 30 }), fc.integer({ min: 0, max: 4 }), (steps, accept) => {
        let run = readyRun({ plan: { sampleSize: 5, accept } });
        for (const command of steps) {
          try {
            run = walk(run, command);
          } catch {
            // refused: the run stays as it was
          }
        }
        for (const disposition of ['accepted', 'not-accepted', 'on-hold'] as const) {
          let decided = run;
          try {
            decided = walk(run, { type: 'decide-lot', disposition, by: 'B', reason: 'r' });
          } catch {
            continue;
          }
          expect(verifyCertificate(certificateBytes(decided))).toMatchObject({
            disposition,
            readings: run.readings.size,
          });
        }
      }),
      { numRuns: 150 },
    );
  });

  it('may have 100 000 readings', { timeout: 60_000 }, () => {
    const size = 100_000;
    const run = readyRun({ lot: { number: 'L', size }, plan: { sampleSize: size, accept: 0 } });
    const readings = run.readings.concat(
      Array.from({ length: size }, (_, index) => ({
        reading: index + 1,
        piece: index + 1,
        at: timeAt(index),
        raw: '+4.70213E+03',
        ohms: '4702.13',
        verdict: 'pass' as const,
        voided: null,
      })),
    );
    const tally = { ...run.tally, counted: size, pass: size };
    const decided = { disposition: 'accepted' as const, by: 'B', reason: '', at: timeAt(size) };
    expect(verifyCertificate(certificateBytes({ ...run, readings, tally, decided })).readings).toBe(size);
  });
});
