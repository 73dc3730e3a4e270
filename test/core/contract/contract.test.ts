import { describe, expect, it } from 'vitest';
import { type RequestName, requests } from '../../../core/contract/contract.ts';
import { checked } from '../../../core/contract/invalid.ts';
import { claimOf, METER_DATA, referenceOf } from '../inspection/walk.ts';

const STRESS = {
  before: { run: 1 },
  after: { name: 'after.csv', csv: 'piece,ohms\r\n1,4700.2\r\n' },
  treatment: 'heat',
  limit: '0.25 % + 0.05 ohm',
};

const STUDY = { csv: 'piece,operator,repeat,ohms\r\n1,A,1,4700.2\r\n', title: 'fixture 3' };

const PART = { number: 'TF-4K7-1', nominal: '4k7', tolerance: '1 %', plan: { sampleSize: 20, accept: 0 } };

/** One question of each request that the station would answer. */
const GOOD: Record<string, unknown> = {
  overview: {},
  history: {
    supplier: 'Example Supply',
    disposition: 'undecided',
    from: '2026-03-02',
    after: { receivedMs: 1, run: 7 },
  },
  'history-names': {},
  'history-trends': { part: 'TF-4K7-1', practice: false },
  'export-history': { filters: { disposition: 'on-hold' } },
  'record-facts': {},
  'list-ports': {},
  'open-run': { run: 1 },
  'pages-of-run': { run: 1, position: 9, from: 65_536 },
  'receive-lot': { claim: claimOf() },
  'connect-meter': { run: 1, address: 'sim:' },
  'release-meter': {},
  'confirm-bench': { run: 1, by: 'Ines Okoro', cautions: ['isolated'] },
  'check-bench': { run: 1, by: 'Ines Okoro', check: 'meter' },
  'override-calibration': { run: 1, by: 'Ines Okoro', reason: 'sent for calibration, due yesterday' },
  'meter-data': { run: 1 },
  'save-meter-data': { run: 1, data: METER_DATA },
  references: {},
  'save-reference': { reference: referenceOf('4700') },
  parts: {},
  part: { number: 'TF-4K7-1' },
  'save-part': { part: PART, was: 'TF-4K7', over: true },
  'remove-part': { number: 'TF-4K7-1' },
  'preview-parts': { csv: 'part,tolerance\r\nTF-4K7-1,>= 1M\r\n' },
  'import-parts': { csv: 'part,tolerance\r\nTF-4K7-1,>= 1M\r\n', version: 'none', rows: [2] },
  'export-parts': {},
  dialects: {},
  'find-meter': { path: '/dev/ttyUSB0' },
  'stop-finding': {},
  'take-reading': { run: 1 },
  'say-position': { run: 1, position: 1204 },
  'start-capture': { run: 1, by: 'trigger', setting: { settledReadings: 4, bandPercent: 1.5 } },
  'stop-capture': {},
  'stop-work': { work: 'certificate 1' },
  'check-record': {},
  'back-up-record': { file: '/mnt/backup/reelohm.sqlite', work: 'backup' },
  'export-record': { work: 'export' },
  'say-open': { run: 1 },
  'start-continuity': { address: 'sim:', closedBelowOhms: '2.5' },
  'stop-continuity': {},
  'void-reading': { run: 1, reading: 2, by: 'Ines Okoro', reason: 'probe slipped' },
  'decide-lot': { run: 1, disposition: 'accepted', by: 'Ines Okoro' },
  'correct-decision': { run: 1, disposition: 'accepted', by: 'B', reason: 'r', approvedBy: 'C' },
  'correct-fact': { run: 1, fact: 'lot number', is: 'L-2', by: 'B', reason: 'typo' },
  'story-of-run': { run: 1 },
  series: { part: 'TF-4K7-1', standard: 'ISO 2859-1' },
  'lift-hold': { run: 1, by: 'Ines Okoro', reason: 'label found' },
  'write-certificate': { run: 1 },
  'read-certificate': { run: 1 },
  'lot-history': { run: 1 },
  'compare-stress': STRESS,
  'write-stress': { ...STRESS, by: 'Ines Okoro' },
  'import-study': STUDY,
  'write-study': { ...STUDY, by: 'Ines Okoro' },
  exercises: {},
  'begin-exercise': { exercise: 'first-reel', trainee: 'Noor Haddad' },
  'act-at-bench': { run: 1, act: 'lift one end' },
  'name-cause': { run: 1, cause: 'an element open', which: 7 },
  debrief: { run: 1 },
  'practice-results': {},
  'preview-continuity': { csv: 'from,to\r\nA1,B1\r\n' },
  'receive-continuity': { claim: { inspector: 'Ines Okoro', title: 'door', csv: 'from,to\r\nA1,B1\r\n' } },
  'continuity-runs': { text: 'door' },
  'open-continuity': { run: 1 },
  'connect-continuity': { run: 1, address: 'sim:' },
  'release-continuity': {},
  'confirm-continuity': { run: 1, by: 'Ines Okoro', cautions: ['isolated'] },
  'check-continuity': { run: 1, by: 'Ines Okoro', check: 'shorted-leads' },
  'read-point': { run: 1, point: 3 },
  'start-stepping': { run: 1 },
  'stop-stepping': {},
  'say-now': { run: 1, state: 'Q1 on' },
  'skip-point': { run: 1, point: 3, by: 'Ines Okoro', reason: 'out of reach' },
  'void-point': { run: 1, reading: 3, by: 'Ines Okoro', reason: 'it slipped' },
  'decide-continuity': { run: 1, disposition: 'accepted', by: 'Ines Okoro' },
  'lift-continuity-hold': { run: 1, by: 'Ines Okoro', reason: 'drawing found' },
  'write-continuity': { run: 1 },
};

const names = Object.keys(requests) as RequestName[];
const ask = (name: RequestName, question: unknown) => checked<unknown>(name, requests[name], question);

describe('the station’s contract', () => {
  it.each(names)('takes a good %s', (name) => {
    expect(GOOD, 'a question of this test').toHaveProperty(name);
    expect(() => ask(name, GOOD[name])).not.toThrow();
  });

  it.each(names)('refuses %s with a field it does not know, and names the field', (name) => {
    expect(() => ask(name, { ...(GOOD[name] as object), misspelt: 1 })).toThrowError(
      expect.objectContaining({
        code: 'input-invalid',
        what: expect.stringMatching(new RegExp(`^${name}: .*misspelt`)),
      }),
    );
  });

  it.each(names)('refuses %s with no question at all, in one line', (name) => {
    for (const nothing of [undefined, null, 'text', 7, []]) {
      expect(() => ask(name, nothing)).toThrowError(expect.objectContaining({ code: 'input-invalid' }));
    }
  });

  it.each([
    ['take-reading', { run: 0 }, 'run'],
    ['take-reading', { run: 1.5 }, 'run'],
    ['take-reading', { run: '1' }, 'run'],
    ['connect-meter', { run: 1, address: '' }, 'address'],
    ['lot-history', { run: 0 }, 'run'],
    ['compare-stress', { ...STRESS, limit: '' }, 'limit'],
    ['compare-stress', { ...STRESS, treatment: ' ' }, 'treatment'],
    ['compare-stress', { ...STRESS, before: { run: 1, csv: '' } }, 'before.csv'],
    ['write-stress', STRESS, 'by'],
    ['import-study', { ...STUDY, refrence: '4k7' }, 'refrence'],
    ['import-study', { ...STUDY, title: '' }, 'title'],
    ['write-study', STUDY, 'by'],
    ['connect-meter', { run: 1, address: 'sim:\n' + 'x' }, 'address'],
    ['confirm-bench', { run: 1, by: 'B', cautions: [] }, 'cautions'],
    ['confirm-bench', { run: 1, by: ' ', cautions: ['c'] }, 'by'],
    ['check-bench', { run: 1, by: 'B', check: 'leads' }, 'check'],
    ['check-bench', { run: 1, by: '', check: 'meter' }, 'by'],
    ['check-bench', { run: 1, by: 'B', check: 'ambient', celsius: '23 C' }, 'celsius'],
    ['check-bench', { run: 1, by: 'B', check: 'no-voltage', word: false }, 'word'],
    ['check-bench', { run: 1, by: 'B', check: 'reference', waived: '' }, 'waived'],
    [
      'check-bench',
      { run: 1, by: 'B', check: 'reference', reference: { ...referenceOf('4700'), ohms: '0' } },
      'reference.ohms',
    ],
    ['save-reference', { reference: { ...referenceOf('4700'), due: '31.12.2026' } }, 'reference.due'],
    ['override-calibration', { run: 1, by: 'B', reason: '' }, 'reason'],
    ['begin-exercise', { exercise: 'first-reel', trainee: ' ' }, 'trainee'],
    ['act-at-bench', { run: 1, act: 'kick it' }, 'act'],
    ['name-cause', { run: 1, cause: 'magic' }, 'cause'],
    ['name-cause', { run: 1, cause: 'bad contact', which: 0 }, 'which'],
    ['read-point', { run: 1, point: 0 }, 'point'],
    ['check-continuity', { run: 1, by: 'B', check: 'reference' }, 'check'],
    ['find-meter', { path: '' }, 'path'],
    ['receive-lot', { claim: { ...claimOf(), checks: { everyReadings: 0 } } }, 'claim.checks.everyReadings'],
    [
      'receive-lot',
      { claim: { ...claimOf(), checks: { ambientCelsius: { lowest: '28', highest: '18' } } } },
      'claim.checks.ambientCelsius',
    ],
    ['save-part', { part: { ...PART, number: ' ' } }, 'part.number'],
    ['save-part', { part: { ...PART, ratedWatts: '0' } }, 'part.ratedWatts'],
    ['save-part', { part: { ...PART, plan: { aql: '1.0', lvl: 'II' } } }, 'part.plan.lvl'],
    ['import-parts', { csv: '', version: 'none', rows: [1.5] }, 'rows.0'],
    ['void-reading', { run: 1, reading: -1, by: 'B', reason: 'r' }, 'reading'],
    ['void-reading', { run: 1, reading: 1.5, by: 'B', reason: 'r' }, 'reading'],
    ['void-reading', { run: 1, reading: 1, by: 'B', reason: '  ' }, 'reason'],
    ['decide-lot', { run: 1, disposition: 'sold', by: 'B' }, 'disposition'],
    ['receive-lot', { claim: { ...claimOf(), plan: { aql: '1.0', lvl: 'II' } } }, 'claim.plan.lvl'],
    ['receive-lot', { claim: { ...claimOf(), inspector: '\u001b[31m' } }, 'claim.inspector'],
    ['receive-lot', { claim: { ...claimOf(), lot: { number: 'L', size: '100' } } }, 'claim.lot.size'],
    ['receive-lot', { claim: { ...claimOf(), lot: { number: 'x'.repeat(201), size: 1 } } }, 'claim.lot.number'],
  ] as [RequestName, unknown, string][])('refuses %s %j and names "%s"', (name, question, field) => {
    expect(() => ask(name, question)).toThrowError(
      expect.objectContaining({ code: 'input-invalid', what: expect.stringContaining(`"${field}"`) }),
    );
  });

  it('says plainly that a field is missing, or is of another kind', () => {
    const { inspector: _, ...lot } = claimOf();
    expect(() => ask('receive-lot', { claim: lot })).toThrowError(
      'receive-lot: "claim.inspector" is missing, expected text. Correct this and try again; nothing was changed. [input-invalid]',
    );
    expect(() => ask('take-reading', { run: '1' })).toThrowError('take-reading: "run" is text, expected a number. ');
    expect(() => ask('overview', null)).toThrowError('overview: is null, expected a group of fields. ');
  });

  it('fills in what may be left out', () => {
    expect(ask('decide-lot', GOOD['decide-lot'])).toMatchObject({ reason: '' });
    const claim = {
      inspector: 'B',
      part: { number: 'P', tolerance: '1 %' },
      lot: { number: 'L', size: 5 },
      plan: { aql: '1' },
    };
    expect(ask('receive-lot', { claim })).toEqual({
      claim: {
        inspector: 'B',
        part: { number: 'P', description: '', nominal: '', tolerance: '1 %' },
        lot: { number: 'L', supplier: '', reel: '', size: 5 },
        plan: { aql: '1', level: 'II', standard: 'MIL-STD-105E', sampling: 'single' },
        classA: { accept: 0, beyondPercent: '5' },
        stopping: 'when-refused',
        positions: { kind: 'as-taken' },
        measurement: { method: '2-wire', range: 'window', integrationCycles: 1 },
        checks: { everyReadings: 50, everyMinutes: 240, ambientCelsius: { lowest: '18', highest: '28' } },
        decision: { rule: 'simple-acceptance', guardFactor: '1', processSpread: '' },
        temperature: { referenceCelsius: '20', thermometerKelvins: '1' },
      },
    });
    expect(ask('import-study', STUDY)).toEqual({
      ...STUDY,
      part: '',
      nominal: '',
      tolerance: '',
      reference: '',
      referenceUncertainty: '',
    });
  });

  it('refuses a file that is too long', () => {
    expect(() => ask('import-study', { ...STUDY, csv: 'x'.repeat(2_000_001) })).toThrowError(
      /"csv" the file is too long/,
    );
  });

  it('takes blanks around text away', () => {
    expect(ask('confirm-bench', { run: 1, by: ' Ines ', cautions: [' c '] })).toEqual({
      run: 1,
      by: 'Ines',
      cautions: ['c'],
    });
  });
});
