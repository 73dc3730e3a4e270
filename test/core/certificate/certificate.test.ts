import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { apply, fold } from '../../../core/inspection/apply.ts';
import { type Command, decide } from '../../../core/inspection/decide.ts';
import { inspectionEvent } from '../../../core/inspection/event.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { CHECKS } from '../../../core/readiness/check.ts';
import { SIGNER } from '../../signer.ts';
import { anyCommand, anyTerms, DECIDED } from '../inspection/anyCommand.ts';
import {
  confirmedRun,
  decidedRun,
  factsOfClaim,
  METER,
  readyRun,
  SIMULATED,
  timeAt,
  walk,
  wholeRound,
  withReadings,
} from '../inspection/walk.ts';
import { ABOUT, acceptedRun, bytesOf, certificateBytes, refusedRun, rowsOfFile } from './files.ts';

const text = certificateOf(acceptedRun(), ABOUT, SIGNER);
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
      text.startsWith(
        'row,item,text,by,piece,asked_position,position,pieces,ohms,zero_ohms,temperature_ohms,expanded_ohms,coverage_factor,lower_ohms,upper_ohms,volts,celsius,percent,number,verdict,wrong_percent,meter_text,at\r\n',
      ),
    ).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(text.endsWith('\r\n')).toBe(true);
    for (const cells of rows) expect(cells).toHaveLength(header.length);
  });

  it('ends with the SHA-256 of all bytes before it, and with its signature', () => {
    const start = text.lastIndexOf('digest,');
    const digest = createHash('sha256').update(text.slice(0, start)).digest('hex');
    const message = Buffer.from(`Reelohm signature 1\nReelohm certificate 5\n${digest}\n`);
    const signature = Buffer.from(SIGNER.sign(message)).toString('hex');
    const empty = ','.repeat(20);
    expect(text.slice(start)).toBe(`digest,sha-256,${digest}${empty}\r\nsignature,ed25519,${signature}${empty}\r\n`);
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
    const wanted = ['item', 'piece', 'ohms', 'zero_ohms', 'temperature_ohms', 'verdict', 'meter_text'];
    const readings = rows
      .filter((cells) => cells[0] === 'reading')
      .map((cells) => wanted.map((column) => cells[header.indexOf(column)]));
    expect(readings).toEqual([
      ['1', '1', '4702.13', '0', '0', 'pass', '+4.70213E+03'],
      ['2', '2', '4699.50', '0', '0', 'pass', '+4.69950E+03'],
      ['3', '3', '4100.00', '0', '0', 'void', '+4.10000E+03'],
      ['4', '3', '4701.00', '0', '0', 'pass', '+4.70100E+03'],
      ['5', '4', '4653', '0', '0', 'pass', '+4653'],
      ['6', '5', '4747.01', '0', '0', 'fail-high', '+4.74701E+03'],
    ]);
    expect(fact('void', '3')).toMatchObject({ text: 'probe slipped', by: 'Ines Okoro' });
  });

  it('tells what happened in the order it happened', () => {
    const round = CHECKS.map((check) => `check ${check}`);
    const happened = rows
      .filter(([row]) => ['meter', 'bench', 'check', 'reading', 'void'].includes(row ?? ''))
      .filter(([row, item]) => row !== 'meter' || item === 'identity')
      .filter(([row, item]) => row !== 'bench' || item === 'cautions confirmed by')
      .map(([row, item]) => `${row} ${item}`);
    expect(happened).toEqual([
      'meter identity',
      'bench cautions confirmed by',
      ...round,
      'reading 1',
      'reading 2',
      'reading 3',
      'void 3',
      'reading 4',
      'reading 5',
      'reading 6',
      ...round,
    ]);
  });

  it('has what each check was judged from, and how it came out', () => {
    expect(fact('check', 'meter')).toMatchObject({ verdict: 'passed', by: 'Ines Okoro' });
    expect(fact('check', 'shorted-leads')).toMatchObject({ verdict: 'passed', zero_ohms: '0' });
    expect(fact('found', 'identity').meter_text).toBe(METER.identity.text);
    expect(fact('found', 'dc-volts')).toMatchObject({ meter_text: '+1.2E-04', volts: '0.00012' });
    expect(fact('found', 'temperature-typed')).toMatchObject({ meter_text: '23', celsius: '23' });
    expect(fact('reference', 'value').ohms).toBe('4747');
    expect(fact('reference', 'due').text).toBe('2026-12-31');
    expect(fact('meter', 'calibration due').text).toBe('2027-01-09');
    expect(fact('meter', 'limit of error both').text).toMatch(/^±\(0\.01 % of reading \+ 0\.001 % of range\)/);
    expect(fact('summary', 'calibration').text).toBe('calibrated on 2026-01-10, certificate C-118, due on 2027-01-09');
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
    const refused = rowsOfFile(certificateOf(refusedRun(), ABOUT, SIGNER));
    expect(fact('reading', '2', refused)).toMatchObject({ ohms: '', verdict: 'open', meter_text: '+9.90000000E+37' });
    expect(fact('summary', 'open', refused).pieces).toBe('1');
    expect(fact('summary', 'lowest', refused).ohms).toBe('4652.9');
  });

  it('says near the top and plainly that a simulated bench was used', () => {
    const simulated = rowsOfFile(certificateOf(acceptedRun({}, SIMULATED), ABOUT, SIGNER));
    const at = simulated.findIndex((cells) => cells[1] === 'kind');
    expect(at).toBeLessThan(6);
    expect(simulated[at]?.[2]).toBe('simulated bench: practice, not an inspection of real pieces');
  });

  it('does not depend on how the meter was reached', () => {
    const serial = acceptedRun({}, { ...METER, address: '/dev/ttyUSB0' });
    expect(certificateOf(serial, ABOUT, SIGNER)).toBe(text);
    expect(text).not.toContain(METER.address);
  });

  it('is refused before the lot is decided, and of a lot that was decided before checks were recorded', () => {
    expect(() => certificateOf(readyRun(), ABOUT, SIGNER)).toThrowError(
      expect.objectContaining({ code: 'run-undecided' }),
    );
    const facts = factsOfClaim({ plan: { sampleSize: 1, accept: 0 } });
    const { decision, temperature, ...before } = facts;
    const reading = { reading: 1, piece: 1, raw: '4700', ohms: '4700', verdict: 'pass' };
    const old = fold(
      [
        { type: 'lot-received', at: timeAt(0), facts: before },
        { type: 'meter-connected', at: timeAt(1), meter: METER },
        { type: 'bench-confirmed', at: timeAt(2), by: 'B', cautions: ['isolated'] },
        { type: 'reading-taken', at: timeAt(3), ...reading },
        { type: 'lot-decided', at: timeAt(4), by: 'B', disposition: 'accepted', reason: '' },
      ].map((event) => inspectionEvent.parse(event)),
    ) as Run;
    expect(old).toMatchObject({ decision, temperature });
    expect(old.readings.get(0)).toMatchObject({ zeroOhms: '0', temperatureOhms: '0', uncertainty: null });
    expect(old.decided?.disposition).toBe('accepted');
    expect(() => certificateOf(old, ABOUT, SIGNER)).toThrowError(
      expect.objectContaining({ code: 'closing-check-missing' }),
    );
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
    expect(found.checked.join('\n')).toContain('Numbers agreed for this lot');
    expect(found.checked.join('\n')).toMatch(/4653 to 4747 Ω.*Sample 5, Ac 1, Re 2.*6 readings.*1 nonconforming/s);
    expect(verifyCertificate(certificateBytes(refusedRun())).disposition).toBe('not-accepted');
  });

  it('may be of a lot put on hold before any meter was there', () => {
    const onHold: Command = { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'label unreadable' };
    const received = walk(null, { type: 'receive-lot', facts: readyRun() }, onHold);
    expect(
      rowsOfFile(certificateOf(received, ABOUT, SIGNER)).some((cells) => cells[2] === 'no meter was connected'),
    ).toBe(true);
    expect(verifyCertificate(certificateBytes(received))).toMatchObject({ disposition: 'on-hold', readings: 0 });
  });

  it('keeps the confirmations of earlier connections', () => {
    let run = withReadings(readyRun(), '4700', '4700');
    run = walk(run, { type: 'connect-meter', meter: METER });
    run = walk(run, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    const written = certificateOf(run, ABOUT, SIGNER);
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
        run = decidedRun(run, 'accepted');
        expect(verifyCertificate(certificateBytes(run)).disposition).toBe('accepted');
      }
    }
  });

  it('comes of every run that can be decided (property)', { timeout: 60_000 }, () => {
    const written = { accepted: 0, 'not-accepted': 0, 'on-hold': 0, studied: 0, suspect: 0, conditional: 0 };
    const verifyWhereDecided = (run: Run) => {
      if (!run.decided) return;
      const { disposition } = run.decided;
      expect(verifyCertificate(certificateBytes(run))).toMatchObject({ disposition, readings: run.readings.size });
      written[disposition] += 1;
      written.suspect += run.tally.suspect > 0 ? 1 : 0;
      written.conditional += run.tally.conditionalPass > 0 ? 1 : 0;
    };
    fc.assert(
      fc.property(fc.array(anyCommand, { maxLength: 40, size: 'max' }), anyTerms, (all, terms) => {
        let run = confirmedRun(terms);
        let seconds = 0;
        for (const asked of [...all, DECIDED]) {
          const { decided } = run;
          for (const command of asked(run)) {
            seconds += 1;
            const events = decide(run, command, timeAt(seconds));
            if (!(events instanceof Problem)) run = events.reduce<Run>(apply, run);
          }
          if (run.decided !== decided) verifyWhereDecided(run);
        }
        verifyWhereDecided(run);
      }),
      { numRuns: 350 },
    );
    // The walk must have come where it is judged.
    for (const [what, count] of Object.entries(written)) expect(count, what).toBeGreaterThan(0);
  });

  it('may have 100 000 readings', { timeout: 60_000 }, () => {
    const size = 100_000;
    const everyReadings = 1000;
    let run = confirmedRun({
      lot: { number: 'L', size },
      plan: { sampleSize: size, accept: 0 },
      checks: { everyReadings },
    });
    const readings = Array<string>(everyReadings).fill('+4.70213E+03');
    while (run.readings.size < size) run = withReadings(wholeRound(run), ...readings);
    expect(verifyCertificate(certificateBytes(decidedRun(run, 'accepted'))).readings).toBe(size);
  });
});
