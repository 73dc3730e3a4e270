import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { MeterDataInput } from '../../../core/accuracy/meterData.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { Entry, Question } from '../../../core/contract/contract.ts';
import type { InspectionEvent } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { checkDue } from '../../../core/inspection/run.ts';
import { problem } from '../../../core/problem/problem.ts';
import { CHECKS, type CheckName } from '../../../core/readiness/check.ts';
import type { Bench } from '../../../instruments/bench/bench.ts';
import type { Conditions } from '../../../instruments/bench/conditions.ts';
import { ScpiError } from '../../../instruments/bench/grammar.ts';
import { type BenchServer, serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import { openRecord } from '../../../main/record/record.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { BY, checkBench, checkRealBench, readyRealBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { tinyMeter } from '../../tinyMeter.ts';

const QUICK = { pace: 'none' } as const;
/** Every piece is good, so that what a test sees comes from the bench. */
const GOOD_LOT = { spreadPercent: 0.01, meanOffsetPercent: 0, shareOpen: 0, shareWrong: 0 } as const;

async function serve(nominalOhms = 4700): Promise<BenchServer> {
  const served = await serveBenchOnTcp({
    host: '127.0.0.1',
    port: 0,
    scenario: { seed: 3, lot: { nominalOhms, ...GOOD_LOT }, meter: QUICK },
  });
  onTestFinished(() => served.close());
  return served;
}

async function connected(station: Station, address: string, claim: LotClaimInput = exampleLot()): Promise<number> {
  const { run } = await station.ask('receive-lot', { claim });
  await station.ask('connect-meter', { run, address });
  await station.ask('confirm-bench', { run, by: BY, cautions: ['read'] });
  return run;
}

function check(station: Station, run: number, name: CheckName, more: Partial<Question<'check-bench'>> = {}) {
  return station.ask('check-bench', { run, by: BY, check: name, ...more });
}

function outcomeOf({ event }: Entry): { outcome: string; why: string } {
  if (event.type !== 'bench-checked') throw new Error(`${event.type} is no check`);
  return event;
}

/** The checks in order up to the first that fails: its name and why, or null where all pass. */
async function firstFailing(station: Station, run: number): Promise<{ name: CheckName; why: string } | null> {
  for (const name of CHECKS) {
    const { outcome, why } = outcomeOf((await check(station, run, name)).entry);
    if (outcome === 'failed') return { name, why };
  }
  return null;
}

const lotOf = (nominal: string, tolerance = '1 %', method: '2-wire' | '4-wire' = '2-wire'): LotClaimInput => ({
  ...exampleLot(),
  part: { number: 'P', nominal, tolerance },
  measurement: { method },
});

const fourWire = lotOf('4k7', '1 %', '4-wire');
const automatic = (claim: LotClaimInput): LotClaimInput => ({ ...claim, measurement: { range: 'auto' } });

/** Makes something of the bench bad. */
const bad =
  (conditions: Partial<Conditions>) =>
  (bench: Bench): void => {
    Object.assign(bench.conditions, conditions);
  };

describe('each check fails for the fault it is there for, and for no other', () => {
  it.each<[string, CheckName | null, LotClaimInput, number, (bench: Bench) => void]>([
    ['nothing', null, exampleLot(), 4700, bad({})],
    ['nothing, in 4-wire', null, fourWire, 4700, bad({})],
    ['an error in the queue', 'meter', exampleLot(), 4700, (bench) => bench.status.note(new ScpiError(-222))],
    ['leads that touch', 'open-leads', exampleLot(), 4700, bad({ leads: 'shorted' })],
    ['a broken lead', 'shorted-leads', exampleLot(), 4700, bad({ leads: 'broken' })],
    ['a poor contact', 'shorted-leads', exampleLot(), 4700, bad({ leads: 'poor' })],
    ['an unsteady contact', 'shorted-leads', exampleLot(), 4700, bad({ leads: 'unsteady' })],
    ['a sense lead that hangs free', 'shorted-leads', fourWire, 4700, bad({ senseOpen: true })],
    ['a live part', 'no-voltage', exampleLot(), 4700, bad({ fixtureVolts: 0.05 })],
    ['a live part of the other sign', 'no-voltage', exampleLot(), 4700, bad({ fixtureVolts: -4 })],
    ['a meter that drifted', 'reference', exampleLot(), 4700, bad({ gainErrorPpm: 700 })],
    ['leads of a fifth of the tolerance', 'method', lotOf('33R'), 33, bad({})],
    ['a value no bench meter does well', 'method', automatic(lotOf('150M')), 150e6, bad({})],
    ['a room that is too warm', 'ambient', exampleLot(), 4700, bad({ ambientCelsius: 31 })],
  ])('%s', async (_what, expected, claim, nominalOhms, spoil) => {
    const served = await serve(nominalOhms);
    const station = openedStation();
    const run = await connected(station, served.address, claim);
    spoil(served.bench);
    const failing = await firstFailing(station, run);
    expect(failing?.name ?? null, failing?.why).toBe(expected);
    expect(checkDue(await runOf(station, run))).toBe(expected);
    const refused = await problemOf(station.ask('take-reading', { run }));
    expect(refused).toBe(expected === null ? 'no problem' : 'run-not-ready');
  });
});

describe('readiness', () => {
  it('is shown in order, and an earlier check that is done again makes the later ones due', async () => {
    const station = openedStation();
    const run = await connected(station, 'sim:7');
    expect(await problemOf(check(station, run, 'shorted-leads'))).toBe('check-out-of-order');
    await checkBench(station, run);
    await check(station, run, 'open-leads');
    expect(checkDue(await runOf(station, run))).toBe('shorted-leads');
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-not-ready');
    await checkBench(station, run);
    await station.ask('take-reading', { run });
  });

  it('subtracts the zero of the shorted leads in 2-wire', async () => {
    const served = await serve();
    const station = openedStation();
    const run = await connected(station, served.address);
    await checkBench(station, run);
    const { entry } = await station.ask('take-reading', { run });
    const { zeroOhms } = await runOf(station, run);
    expect(entry.event).toMatchObject({ type: 'reading-taken', zeroOhms });
    if (entry.event.type !== 'reading-taken') throw new Error('no reading');
    // Leads of 0.08 ohm in the scenario; a digit of the 10 kΩ range is 0.01 ohm, its noise 0.02.
    expect(Number(zeroOhms)).toBeGreaterThan(0.02);
    expect(Number(zeroOhms)).toBeLessThan(0.14);
    expect(Number(entry.event.ohms)).toBeCloseTo(Number(entry.event.raw) - Number(zeroOhms), 6);
  });

  it('is due again after as many readings as the lot asks for', async () => {
    const station = openedStation();
    const run = await connected(station, 'sim:7', { ...exampleLot(), checks: { everyReadings: 3 } });
    await checkBench(station, run);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('readiness-expired');
    await checkBench(station, run);
    await station.ask('take-reading', { run });
  });

  it('ends when the function is changed at the front panel, and that reading does not count', async () => {
    const served = await serve();
    const station = openedStation();
    const run = await connected(station, served.address);
    await checkBench(station, run);
    await station.ask('take-reading', { run });
    served.bench.select('VOLT');
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('function-changed');
    const after = await runOf(station, run);
    expect([after.readings.size, checkDue(after)]).toEqual([1, 'meter']);
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-not-ready');
    await checkBench(station, run);
    await station.ask('take-reading', { run });
  });

  it('ends when the meter was switched off and on, and says so', async () => {
    const served = await serve();
    const station = openedStation();
    const run = await connected(station, served.address);
    await checkBench(station, run);
    served.bench.restart();
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('meter-restarted');
    const after = await runOf(station, run);
    expect([after.readings.size, checkDue(after)]).toEqual([0, 'meter']);
    await checkBench(station, run);
    await station.ask('take-reading', { run });
    expect((await runOf(station, run)).tally.pass).toBe(1);
  });
});

describe('a check that could not count', () => {
  it('is refused before the meter is troubled', async () => {
    const meter = await tinyMeter({});
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await station.ask('connect-meter', { run, address: meter.address });
    await station.ask('decide-lot', { run, disposition: 'on-hold', by: BY, reason: 'the reel is wet' });
    const heard = meter.heard.length;
    expect(await problemOf(check(station, run, 'meter'))).toBe('run-on-hold');
    expect(meter.heard.length).toBe(heard);
  });
});

describe('what speaks against readings', () => {
  /** A station whose record has no room for the first event like this. */
  function openFullFor(isFor: (event: InspectionEvent) => boolean): Station {
    const folder = temporaryFolder();
    const kept = openRecord(folder);
    let isFull = true;
    const append: typeof kept.append = (run, events) => {
      if (!isFull || !(events as readonly InspectionEvent[]).some(isFor)) return kept.append(run, events);
      isFull = false;
      throw problem('record-full', 'no space');
    };
    return openedStation(folder, { ...kept, append });
  }

  it('is not forgotten where the record had no room for it: a meter that was away', async () => {
    const meter = await tinyMeter({});
    const station = openFullFor(({ type }) => type === 'run-interrupted');
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await readyRealBench(station, run, meter);
    const before = meter.connections;
    meter.hangUp();
    await expect.poll(() => meter.connections).toBe(before + 1);
    await expect.poll(async () => (await station.ask('overview', {})).link.state).toBe('connected');
    expect(checkDue(await runOf(station, run))).toBe('meter');
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-not-ready');
  });

  it('is not forgotten where the record had no room for it: a check that failed', async () => {
    const served = await serve();
    const station = openFullFor((event) => event.type === 'bench-checked' && event.outcome === 'failed');
    const run = await connected(station, served.address);
    await checkBench(station, run);
    await station.ask('take-reading', { run });
    served.bench.conditions.leads = 'shorted';
    await check(station, run, 'meter');
    expect(await problemOf(check(station, run, 'open-leads'))).toBe('record-full');
    served.bench.conditions.leads = 'good';
    await checkBench(station, run);
    expect((await runOf(station, run)).readings.first()?.suspect).not.toBeNull();
  });
});

describe('a later check that fails', () => {
  it('finds a meter that drifts a little with each reading, and doubts what it read since', async () => {
    const served = await serve();
    const station = openedStation();
    const claim = { ...exampleLot({ sampleSize: 40, accept: 0 }), checks: { everyReadings: 20 } };
    const run = await connected(station, served.address, claim);
    await checkBench(station, run);
    // Of 5 kΩ the meter may be off by 100 ppm of the reference and 200 ppm of its own: 20 readings of 20 ppm are more.
    served.bench.conditions.driftPpmPerReading = 20;
    for (let reading = 0; reading < 20; reading++) await station.ask('take-reading', { run });
    expect((await runOf(station, run)).tally.pass).toBe(20);
    expect(await firstFailing(station, run)).toMatchObject({ name: 'reference' });
    const after = await runOf(station, run);
    expect(after.readings.slice().every(({ suspect }) => suspect !== null)).toBe(true);
    expect(after.tally.counted).toBe(0);
  });

  it('makes every reading since the last good one suspect, to be measured again before the lot is accepted', async () => {
    const served = await serve();
    const station = openedStation();
    const claim = { ...exampleLot({ sampleSize: 6, accept: 0 }), checks: { everyReadings: 4 } };
    const run = await connected(station, served.address, claim);
    await checkBench(station, run);
    for (let reading = 0; reading < 4; reading++) await station.ask('take-reading', { run });
    await checkBench(station, run);
    for (let reading = 0; reading < 2; reading++) await station.ask('take-reading', { run });
    expect(await problemOf(station.ask('decide-lot', { run, disposition: 'accepted', by: BY }))).toBe(
      'closing-check-missing',
    );
    served.bench.conditions.gainErrorPpm = 700;
    expect(await firstFailing(station, run)).toMatchObject({ name: 'reference' });
    const suspect = await runOf(station, run);
    expect(suspect.readings.slice().map((reading) => reading.suspect !== null)).toEqual([
      ...[false, false, false, false],
      ...[true, true],
    ]);
    expect(suspect.tally.counted).toBe(4);
    expect(await problemOf(station.ask('decide-lot', { run, disposition: 'accepted', by: BY }))).toBe(
      'decision-against-plan',
    );
    served.bench.conditions.gainErrorPpm = 0;
    await checkBench(station, run);
    for (let reading = 0; reading < 2; reading++) await station.ask('take-reading', { run });
    await checkBench(station, run);
    await station.ask('decide-lot', { run, disposition: 'accepted', by: BY });
    const { file } = await station.ask('write-certificate', { run });
    const text = readFileSync(file, 'utf8');
    expect(text.match(/^reading,.*,suspect,/gm)).toHaveLength(2);
    expect(text).toMatch(/^check,reference,.*,failed,/m);
    expect(verifyCertificate(Buffer.from(text))).toMatchObject({ disposition: 'accepted', readings: 8 });
  });
});

const MANUAL: MeterDataInput = {
  calibration: { date: '2026-01-10', due: '2027-01-09', certificate: 'C-118' },
  validDays: 365,
  ambient: { lowest: '18', highest: '28' },
  ranges: [
    { method: 'both', fullScaleOhms: '1000', percentOfReading: '0.05', plus: { percentOfRange: '0.01' } },
    { method: 'both', fullScaleOhms: '10000', percentOfReading: '0.05', plus: { percentOfRange: '0.01' } },
  ],
};
const OVERDUE = { ...MANUAL, calibration: { ...MANUAL.calibration, date: '2019-01-10', due: '2020-01-09' } };

describe('the calibration of a real meter', () => {
  it('that nobody entered, or that is overdue, decides no lot until somebody answers for it', async () => {
    const meter = await tinyMeter({});
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 2, accept: 0 }) });
    await station.ask('connect-meter', { run, address: meter.address });
    const meterCheck = async () => outcomeOf((await check(station, run, 'meter')).entry);
    expect(await meterCheck()).toMatchObject({ outcome: 'failed', why: expect.stringContaining('no calibration') });
    await station.ask('save-meter-data', { run, data: OVERDUE });
    expect(await meterCheck()).toMatchObject({ outcome: 'failed', why: expect.stringContaining('due on 2020-01-09') });
    await station.ask('override-calibration', { run, by: 'Q. Lead', reason: 'sent away next week' });
    expect(await meterCheck()).toMatchObject({ outcome: 'passed' });

    await readyRealBench(station, run, meter);
    for (let reading = 0; reading < 2; reading++) await station.ask('take-reading', { run });
    await checkRealBench(station, run, meter);
    await station.ask('decide-lot', { run, disposition: 'accepted', by: BY });
    const { file } = await station.ask('write-certificate', { run });
    const text = readFileSync(file, 'utf8');
    expect(text).toContain('due,2020-01-09');
    expect(text).toMatch(/overrid.*a meter made for this test/);
    expect(verifyCertificate(Buffer.from(text)).disposition).toBe('accepted');
  });

  it('is kept for the meter that says it is this one, and a file that cannot be read is not overwritten', async () => {
    const meter = await tinyMeter({});
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await station.ask('connect-meter', { run, address: meter.address });
    expect(await station.ask('meter-data', { run })).toEqual({ data: null });
    await station.ask('save-meter-data', { run, data: MANUAL });
    const second = (await station.ask('receive-lot', { claim: exampleLot() })).run;
    await station.ask('connect-meter', { run: second, address: meter.address });
    expect((await runOf(station, second)).meter?.data?.calibration.certificate).toBe('C-118');
    // The smallest error over the whole window is on the 10 kΩ range, by what was entered.
    expect(Number((await runOf(station, second)).meter?.setting.rangeOhms)).toBe(10_000);
    writeFileSync(join(folder, 'meters.json'), '{ half');
    expect(await problemOf(station.ask('save-meter-data', { run: second, data: MANUAL }))).toBe('file-unreadable');
    expect(readFileSync(join(folder, 'meters.json'), 'utf8')).toBe('{ half');
  });
});

describe('data entered for a meter in the middle of a run', () => {
  it('that it cannot be set by end the checks: it may be on another range than they were done on', async () => {
    let fault = false;
    const meter = await tinyMeter({}, (unit) => (fault && unit === 'RES:NPLC?' ? 'OVERRNG' : undefined));
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 2, accept: 0 }) });
    await readyRealBench(station, run, meter);
    await station.ask('take-reading', { run });
    fault = true;
    expect(await problemOf(station.ask('save-meter-data', { run, data: MANUAL }))).toBe('answer-unreadable');
    fault = false;
    expect(await problemOf(station.ask('take-reading', { run }))).toBe('run-not-ready');
    expect(checkDue(await runOf(station, run))).toBe('meter');
  });

  it('are not kept while the meter is busy, and then refused', async () => {
    const meter = await tinyMeter({});
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await station.ask('connect-meter', { run, address: meter.address });
    const busy = station.ask('check-bench', { run, by: BY, check: 'meter' });
    expect(await problemOf(station.ask('save-meter-data', { run, data: MANUAL }))).toBe('reading-under-way');
    await busy;
    expect(await station.ask('meter-data', { run })).toEqual({ data: null });
  });

  it('that cannot say who it is are for the one at that place only', async () => {
    const served = async () => {
      const bench = await serveBenchOnTcp({
        host: '127.0.0.1',
        port: 0,
        scenario: { seed: 3, lot: { nominalOhms: 4700 }, meter: { pace: 'real', manner: 'talker' } },
      });
      onTestFinished(() => bench.close());
      return `${bench.address}?dialect=talker`;
    };
    const station = openedStation();
    const { run } = await station.ask('receive-lot', { claim: automatic(exampleLot()) });
    const [here, there] = [await served(), await served()];
    await station.ask('connect-meter', { run, address: here });
    await station.ask('save-meter-data', { run, data: MANUAL });
    expect((await runOf(station, run)).meter).toMatchObject({ identity: { text: 'not told' }, data: MANUAL });
    await station.ask('connect-meter', { run, address: there });
    expect((await runOf(station, run)).meter?.data).toBeNull();
    await station.ask('connect-meter', { run, address: here });
    expect((await runOf(station, run)).meter?.data).toMatchObject(MANUAL);
  });
});

describe('what is kept beside the runs', () => {
  it('loses none of what several people keep at once', async () => {
    const station = openedStation();
    const names = ['R-1', 'R-2', 'R-3', 'R-4'];
    const facts = { ohms: '5000.1', uncertaintyOhms: '0.2', due: '2027-05-01' };
    await Promise.all(names.map((name) => station.ask('save-reference', { reference: { name, ...facts } })));
    expect((await station.ask('references', {})).map(({ name }) => name)).toEqual(names);
  });

  it('reference resistors, one of each name', async () => {
    const folder = temporaryFolder();
    const station = openedStation(folder);
    const reference = { name: 'R-5k', ohms: '5000.1', uncertaintyOhms: '0.2', due: '2027-05-01' };
    expect(await station.ask('references', {})).toEqual([]);
    await station.ask('save-reference', { reference });
    await station.ask('save-reference', { reference: { ...reference, name: 'R-100', ohms: '100' } });
    await station.ask('save-reference', { reference: { ...reference, due: '2028-05-01' } });
    expect(await station.ask('references', {})).toEqual([
      { ...reference, name: 'R-100', ohms: '100' },
      { ...reference, due: '2028-05-01' },
    ]);
    writeFileSync(join(folder, 'references.json'), '[{ "name": 7 }]');
    expect(await problemOf(station.ask('references', {}))).toBe('input-invalid');
  });
});
