import { createHash } from 'node:crypto';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { COLUMNS } from '../../../core/certificate/format.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { CHECKS, type CheckName, type Shown } from '../../../core/readiness/check.ts';
import { SIGNER } from '../../signer.ts';
import {
  badCheck,
  CAUTIONS,
  confirmedRun,
  goodCheck,
  METER,
  METER_DATA,
  SIMULATED,
  walk,
  wholeRound,
  withReadings,
} from '../inspection/walk.ts';
import { ABOUT, acceptedRun, certificateBytes, forged, openRows, rowsOfFile } from './files.ts';

const GOOD = '+4.70213E+03';

/** A meter past due, without DC volts. */
const POOR: MeterFacts = {
  ...METER,
  measures: ['2-wire', '4-wire'],
  data: { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-03-01' } },
};

/** One round where all is done that a certificate must say plainly: nothing measured for volts, no reference. */
function poorRound(run: Run): Run {
  const instead: Partial<Record<CheckName, Shown[]>> = {
    'shorted-leads': ['+0.20', '+0.21', '+0.22'].map((raw) => ({ what: '2-wire', raw })),
    'open-leads': [{ what: '2-wire', raw: '+9.9E+37' }],
    'no-voltage': [{ what: 'word', raw: 'nothing is live' }],
    reference: [{ what: 'waiver', raw: 'the reference is away for calibration' }],
  };
  return CHECKS.reduce((now, check) => {
    const good = goodCheck(now, check);
    return walk(now, { ...good, shown: instead[check] ?? good.shown, reference: null });
  }, run);
}

/** An eventful run: answered for, by word, waived, two suspect readings, one void, the meter away once, accepted. */
function eventfulRun(): Run {
  let run = walk(confirmedRun({ plan: { sampleSize: 4, accept: 1 } }, POOR), {
    type: 'override-calibration',
    by: 'R. Adeyemi',
    reason: 'compared with the other meter this morning',
  });
  run = withReadings(poorRound(run), '4.70221E+03', '4.60000E+03');
  run = walk(run, badCheck(run, 'meter'));
  run = withReadings(poorRound(run), '4.70221E+03', '4701.21', '4699.21');
  run = walk(run, { type: 'void-reading', reading: 5, by: 'Ines Okoro', reason: 'probe slipped' });
  run = walk(run, { type: 'interrupt', why: 'unplugged' }, { type: 'continue' });
  run = withReadings(poorRound(run), '4700.21', '4701.21');
  return walk(poorRound(run), { type: 'decide-lot', disposition: 'accepted', by: 'Ines Okoro', reason: '' });
}

const run = eventfulRun();
const rows = rowsOfFile(certificateOf(run, ABOUT, SIGNER));
const column = (name: (typeof COLUMNS)[number]) => COLUMNS.indexOf(name);
const cellsOf = (row: string, name: (typeof COLUMNS)[number], of = rows) =>
  of.filter((cells) => cells[0] === row).map((cells) => cells[column(name)]);

/** What verification says against these rows, closed by a forger; a test fails where it says nothing. */
function refusal(changed: string[][]): string {
  try {
    verifyCertificate(forged(changed));
  } catch (thrown) {
    if (thrown instanceof Problem && thrown.code === 'certificate-broken') return thrown.what;
    throw thrown;
  }
  throw new Error('the file was taken for intact');
}

/** The open rows with some of them changed or left out (null). */
function changed(of: Run, change: (cells: string[], index: number) => string[] | null): string[][] {
  return openRows(of).flatMap((cells, index) => {
    const now = change([...cells], index);
    return now === null ? [] : [now];
  });
}

describe('the certificate of an eventful run', () => {
  it('holds, and says plainly who answers for the meter, what was waived and what was taken by word', () => {
    const { checked } = verifyCertificate(certificateBytes(run));
    expect(checked.join('\n')).toContain('overridden by R. Adeyemi: compared with the other meter this morning');
    expect(checked.join('\n')).toMatch(/29 checks of the bench.*: 1 failed, 4 waived, 4 by word only/);
    expect(checked.join('\n')).toContain('1 of them void, 2 suspect');
    expect(cellsOf('override', 'text')).toEqual(['compared with the other meter this morning']);
    expect(cellsOf('override', 'by')).toEqual(['R. Adeyemi']);
    const summary = Object.fromEntries(rows.filter(([row]) => row === 'summary').map((cells) => [cells[1], cells[2]]));
    expect(summary).toMatchObject({
      calibration: expect.stringMatching(/was due on 2026-03-01; overridden by R\. Adeyemi/),
      'suspect readings': '2',
      'checks done': '29',
      'checks failed': '1',
      'checks waived': '4',
      'checks by word': '4',
    });
  });

  it('shows suspect readings where they were taken, before the check that failed, and measured again after', () => {
    const happened = rows
      .filter((cells) => cells[0] === 'reading' || cells[0] === 'void' || cells[column('verdict')] === 'failed')
      .map((cells) => [cells[0], cells[1], cells[column('piece')], cells[column('verdict')]].join(' '));
    expect(happened).toEqual([
      'reading 1 1 suspect',
      'reading 2 2 suspect',
      'check meter  failed',
      'reading 3 1 pass',
      'reading 4 2 pass',
      'reading 5 3 void',
      'void 5  ',
      'reading 6 3 pass',
      'reading 7 4 pass',
    ]);
    expect(rows.find((cells) => cells[0] === 'reading')?.[2]).toMatch(/^the check of the meter failed at 2026-03-02T/);
    expect(cellsOf('readiness', 'text')).toEqual(['the meter was away: unplugged']);
  });

  it('has the zero beside each reading, and its value less that zero', () => {
    expect(cellsOf('reading', 'zero_ohms')).toEqual(Array(7).fill('0.21'));
    expect(cellsOf('reading', 'ohms').slice(0, 5)).toEqual(['4702.00', '4599.79', '4702.00', '4701.00', '4699.00']);
    expect(cellsOf('reading', 'meter_text')[0]).toBe('4.70221E+03');
  });

  it('has the data of each meter that was connected, in force from there on', () => {
    const again = walk(acceptedUpTo(), { type: 'connect-meter', meter: { ...METER, data: null } });
    const held = walk(again, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'no meter data' });
    const calibrations = rowsOfFile(certificateOf(held, ABOUT, SIGNER)).filter(
      (cells) => cells[1] === 'calibration' && cells[0] === 'meter',
    );
    expect(calibrations.map((cells) => cells[2])).toEqual(['2026-01-10', 'unknown']);
    expect(verifyCertificate(certificateBytes(held)).disposition).toBe('on-hold');
  });

  it('of a lot on hold needs no closing round', () => {
    const open = withReadings(wholeRound(confirmedRun()), GOOD, GOOD);
    const held = walk(open, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'label unreadable' });
    expect(verifyCertificate(certificateBytes(held)).disposition).toBe('on-hold');
  });

  it('of practice needs no calibration', () => {
    const practice = acceptedRun(
      {},
      { ...SIMULATED, data: { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-01-11' } } },
    );
    expect(verifyCertificate(certificateBytes(practice)).checked.join()).toContain(
      'the simulated bench needs no calibration',
    );
  });
});

function acceptedUpTo(): Run {
  return withReadings(wholeRound(confirmedRun()), GOOD, GOOD);
}

describe('a forged certificate is refused', () => {
  it('where readings after a failed check are passed off as good', () => {
    const said = refusal(
      changed(run, (cells) => {
        if (cells[0] !== 'reading' || cells[column('verdict')] !== 'suspect') return cells;
        cells[column('verdict')] = 'pass';
        cells[2] = '';
        return cells;
      }),
    );
    expect(said).toMatch(/row \d+: text is "", but the other rows give "the check of the meter failed at/);
  });

  it('where the check that failed is left out, or its trouble is', () => {
    const failedAt = openRows(run).findIndex((cells) => cells[column('verdict')] === 'failed');
    expect(failedAt).toBeGreaterThan(0);
    expect(
      refusal(changed(run, (cells, index) => (index === failedAt || index === failedAt + 1 ? null : cells))),
    ).toMatch(/row \d+/);
    // A check of the meter is still there, but without its trouble nobody was asked who it is.
    expect(refusal(changed(run, (cells, index) => (index === failedAt + 1 ? null : cells)))).toContain(
      `row ${failedAt + 1}`,
    );
  });

  it('where the lot was decided without a closing round', () => {
    const all = openRows(run);
    const lastReading = all.findLastIndex((cells) => cells[0] === 'reading');
    const summary = all.findIndex((cells) => cells[0] === 'summary');
    const fewer: Record<string, string> = { 'checks done': '22', 'checks waived': '3', 'checks by word': '3' };
    const without = changed(run, (cells, index) => {
      if (index > lastReading && index < summary) return null;
      if (cells[0] === 'summary') cells[2] = fewer[cells[1] ?? ''] ?? cells[2] ?? '';
      return cells;
    });
    expect(refusal(without)).toContain(
      `row ${without.length - 3}: accepted, but No whole round of checks was done after the last reading`,
    );
  });

  it('where nobody answers for a meter past due', () => {
    expect(refusal(changed(run, (cells) => (cells[0] === 'override' ? null : cells)))).toMatch(
      /said to be passed, but what was shown gives failed: the calibration was due on 2026-03-01/,
    );
  });

  it('where it was decided on the day after its meter was due', () => {
    const late = changed(acceptedRun(), (cells) => {
      if (cells[0] === 'disposition' && cells[1] === 'disposition') cells[column('at')] = '2027-01-10T08:00:00+00:00';
      if (cells[0] === 'summary' && cells[1] === 'calibration') cells[2] = 'the calibration was due on 2027-01-09';
      return cells;
    });
    expect(refusal(late)).toContain(
      `row ${late.length - 3}: accepted, but The meter can't decide a lot: the calibration was due`,
    );
  });

  it('where checks or readings came too late for what was shown before them', () => {
    const late = changed(acceptedRun(), (cells) => {
      if (cells[0] === 'reading' && cells[1] === '4') cells[column('at')] = '2026-03-02T17:05:10+00:00';
      return cells;
    });
    expect(refusal(late)).toContain('The checks of the bench hold no longer');
  });

  it('where any outcome, zero, value, verdict or reason that follows was changed (property)', {
    timeout: 120_000,
  }, () => {
    const open = openRows(run);
    const follows = [
      ...(['text', 'piece', 'ohms', 'zero_ohms', 'temperature_ohms', 'expanded_ohms', 'coverage_factor'] as const),
      ...(['volts', 'celsius', 'percent', 'number', 'verdict', 'wrong_percent', 'item'] as const),
    ];
    const places = open.flatMap((cells, row) =>
      // A found row's text is empty, and a void row's is what somebody gave as the reason.
      cells[0] === 'check' || cells[0] === 'reading' || cells[0] === 'found'
        ? follows.map((name) => ({ row, name }))
        : [],
    );
    const other = fc.constantFrom('', '0', '0.2', '4700', 'pass', 'passed', 'void', 'suspect', 'waived', '2', 'meter');
    fc.assert(
      fc.property(fc.constantFrom(...places), other, ({ row, name }, value) => {
        fc.pre(open[row]?.[column(name)] !== value);
        refusal(changed(run, (cells, index) => (index === row ? cells.with(column(name), value) : cells)));
      }),
      { numRuns: 400 },
    );
  });

  it('where a row of what happened is left out, whichever it is, and the summary is left as it was', {
    timeout: 60_000,
  }, () => {
    const open = openRows(run);
    for (const [index, cells] of open.entries()) {
      if (!['check', 'reading', 'void', 'override'].includes(cells[0] ?? '')) continue;
      expect(refusal(open.toSpliced(index, 1)), cells.join()).toMatch(/row \d+/);
    }
  });

  it('where it is of an earlier format, which is named', () => {
    // Their rows had so many cells; what stood in them does not matter.
    for (const [format, columns] of [
      [1, 12],
      [2, 16],
      [3, 21],
      [4, 23],
    ] as const) {
      const rows = openRows(acceptedRun()).map((cells) => cells.slice(0, columns));
      rows[1]?.splice(2, 1, `Reelohm certificate ${format}`);
      const body = Buffer.from(stringify(rows, { record_delimiter: 'windows' }));
      const digest = createHash('sha256').update(body).digest('hex');
      const closing = Buffer.from(`digest,sha-256,${digest}${','.repeat(columns - 3)}\r\n`);
      const intact = new Uint8Array(Buffer.concat([body, closing]));
      expect(() => verifyCertificate(intact)).toThrowError(
        expect.objectContaining({ what: expect.stringContaining(`row 2: it is of format ${format}`) }),
      );
    }
    const relabelled = openRows(acceptedRun());
    relabelled[1]?.splice(2, 1, 'Reelohm certificate 3');
    expect(refusal(relabelled)).toContain('row 2: text is "Reelohm certificate 3" instead of Reelohm certificate 5');
  });
});

it('what was confirmed of the bench stands where it was confirmed', () => {
  const again = walk(
    acceptedUpTo(),
    { type: 'connect-meter', meter: METER },
    { type: 'confirm-bench', by: 'B', cautions: CAUTIONS },
  );
  const held = walk(again, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
  const happened = rowsOfFile(certificateOf(held, ABOUT, SIGNER))
    .filter(([row, item]) => row === 'reading' || item === 'identity' || item === 'cautions confirmed by')
    .map(([row, item]) => `${row} ${item}`);
  expect(happened).toEqual([
    'meter identity',
    'bench cautions confirmed by',
    'found identity',
    'reading 1',
    'reading 2',
    'meter identity',
    'bench cautions confirmed by',
  ]);
});
