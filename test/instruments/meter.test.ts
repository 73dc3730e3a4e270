import { afterEach, describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { ScpiError } from '../../instruments/bench/grammar.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { type Meter, type MeterSetting, prepareMeter, readingDeadline } from '../../instruments/meter/meter.ts';
import { Session } from '../../instruments/scpi/session.ts';
import { scriptedInstrument } from './scriptedInstrument.ts';

const scenario: BenchScenarioInput = {
  seed: 4,
  lot: { nominalOhms: 130, meanOffsetPercent: 0, spreadPercent: 0, shareOpen: 0, shareWrong: 0 },
  leadOhms: 0.5,
  meter: { pace: 'none' },
};
const automatic: MeterSetting = { function: '2-wire', range: 'auto', integrationCycles: 10 };

let meter: Meter | undefined;
afterEach(() => meter?.close());

type Odd = (line: string, bench: Bench) => string | null | undefined | Promise<string>;

/**
 * A meter on the simulated bench with a quirk: `odd` may answer a line itself, with text or with nothing (null);
 * otherwise the bench answers.
 */
async function meterWith(odd: Odd, serial = false) {
  const bench = new Bench(readScenario(scenario));
  const { connection, heard } = scriptedInstrument(async (line, send) => {
    const own = await odd(line, bench);
    const answer = own === undefined ? await execute(bench, line) : own;
    if (answer !== null) send(`${answer}\r\n`);
  });
  const lost = Promise.withResolvers<string>();
  const session = new Session(connection, { random: Math.random, onLost: (why) => lost.resolve(why.code) });
  meter = await prepareMeter(session, serial);
  return { meter, heard, lost: lost.promise };
}

const plain: Odd = () => undefined;

describe('a resistance meter', () => {
  it('is taken into remote control on a serial line before the first question, and given back', async () => {
    const { meter, heard } = await meterWith(plain, true);
    expect(heard[0]).toBe('SYST:REM');
    expect(heard.find((line) => line.includes('?'))).toMatch(/^\*ESE \d+;\*ESE\?$/);
    expect(meter.identity).toMatchObject({ maker: 'Reelohm', model: 'Simulated bench', serial: '4', simulated: true });
    await meter.close();
    await expect.poll(() => heard.at(-1)).toBe('SYST:LOC');
  });

  it('reports its setting as it reads it back', async () => {
    const { meter } = await meterWith(plain);
    expect(await meter.configure({ function: '4-wire', range: { coversOhms: '131.3' }, integrationCycles: 5 })).toEqual(
      {
        function: '4-wire',
        range: 'fixed',
        rangeOhms: '1000',
        integrationCycles: '10',
      },
    );
    expect(await meter.configure(automatic)).toMatchObject({ function: '2-wire', range: 'auto' });
  });

  it('reads the leads too in 2-wire and not in 4-wire', async () => {
    const { meter } = await meterWith(plain);
    await meter.hands?.place(1);
    await meter.configure(automatic);
    const twoWire = await meter.read();
    await meter.configure({ ...automatic, function: '4-wire' });
    const fourWire = await meter.read();
    if (twoWire.kind !== 'value' || fourWire.kind !== 'value') throw new Error('no value');
    expect(Number(twoWire.ohms)).toBeCloseTo(130.5, 1);
    expect(Number(fourWire.ohms)).toBeCloseTo(130, 1);
  });

  it('tells a piece just above a fixed range from an open one, and sets the range back', async () => {
    const { meter, heard } = await meterWith(plain);
    await meter.configure({ ...automatic, range: { coversOhms: '100' } });
    await meter.hands?.place(1);
    const above = await meter.read();
    expect(above).toMatchObject({ kind: 'value' });
    await meter.hands?.lift();
    expect(await meter.read()).toEqual({ kind: 'overload', raw: '+9.90000000E+37' });
    await meter.hands?.short();
    heard.length = 0;
    expect(await meter.read()).toMatchObject({ kind: 'value' });
    expect(heard).toEqual(['READ?']);
  });

  it('refuses to go on when the range is not set back', async () => {
    const { meter, heard } = await meterWith((line) => (line === 'RES:RANG 1E+2' && reading ? null : undefined));
    let reading = false;
    await meter.configure({ ...automatic, range: { coversOhms: '100' } });
    reading = true;
    await expect(meter.read()).rejects.toMatchObject({ code: 'setting-not-taken' });
    await expect(meter.read()).rejects.toMatchObject({ code: 'setting-not-taken' });
    // When the meter takes its range again it is set and checked from the start before a reading counts.
    reading = false;
    heard.length = 0;
    await expect(meter.read()).resolves.toMatchObject({ kind: 'overload' });
    expect(heard).toContain('CONF:RES');
  });

  it('names the error of a setting the meter refuses', async () => {
    const { meter } = await meterWith(plain);
    await expect(meter.configure({ ...automatic, range: { coversOhms: '1e12' } })).rejects.toMatchObject({
      code: 'meter-error',
      what: expect.stringContaining('-222,"Data out of range'),
    });
    await expect(meter.configure({ ...automatic, integrationCycles: 1000 })).rejects.toMatchObject({
      code: 'meter-error',
    });
  });

  it.each([
    ['function', 'FUNC?', '"VOLT:DC"'],
    ['range', 'RES:RANG:AUTO?', '0'],
    ['integration', 'RES:NPLC?', '+1.00000000E+00'],
  ])('does not take another %s than asked for', async (_, query, answer) => {
    const { meter } = await meterWith((line) => (line === query ? answer : undefined));
    await expect(meter.configure(automatic)).rejects.toMatchObject({ code: 'setting-not-taken' });
  });

  it.each([
    ['+9.91E+37', 'answer-not-a-number'],
    ['OVERRNG', 'answer-unreadable'],
    ['+2.20E+', 'answer-unreadable'],
    ['+2.2+1.0E+3', 'answer-unreadable'],
    ['1;41', 'answer-unreadable'],
    ['NaN', 'answer-unreadable'],
    ['0x10', 'answer-unreadable'],
    ['2.2\u0000', 'answer-unreadable'],
    ['9.9E38', 'answer-unreadable'],
    ['+1.2E+03,+1.2E+03', 'answer-unreadable'],
    ['+1.2E+03 OHM', 'answer-unreadable'],
    ['1,2', 'answer-unreadable'],
  ])('does not count %s', async (answer, code) => {
    const { meter } = await meterWith((line) => (line === 'READ?' ? answer : undefined));
    await meter.configure(automatic);
    await expect(meter.read()).rejects.toMatchObject({ code });
  });

  it('never pairs the answer behind an echo with the next reading', async () => {
    let owed = '';
    let readings = 0;
    const { meter } = await meterWith((line, bench) => {
      if (line === 'READ?' && readings++ === 0) {
        owed = '+1.00000000E+00\r\n';
        return 'READ?';
      }
      const late = owed;
      owed = '';
      if (line === 'READ?') return `${late}+2.00000000E+00`;
      if (late === '') return undefined;
      return execute(bench, line).then((answer) => late + answer);
    });
    await meter.configure(automatic);
    await expect(meter.read()).rejects.toMatchObject({ code: 'answer-unreadable' });
    expect(await meter.read()).toMatchObject({ ohms: '2.00000000' });
  });

  it('tells refused from silent by the error queue', async () => {
    const refusing = await meterWith((line, bench) => {
      if (line !== 'READ?') return undefined;
      bench.status.note(new ScpiError(-230));
      return null;
    });
    await refusing.meter.configure({ ...automatic, range: { coversOhms: '1000' }, integrationCycles: 0.02 });
    await expect(refusing.meter.read()).rejects.toMatchObject({
      code: 'meter-error',
      what: expect.stringContaining('-230,"Data corrupt or stale"'),
    });
    await refusing.meter.close();

    const silent = await meterWith((line) => (line === 'READ?' ? null : undefined));
    await silent.meter.configure({ ...automatic, range: { coversOhms: '1000' }, integrationCycles: 0.02 });
    await expect(silent.meter.read()).rejects.toMatchObject({ code: 'meter-silent' });
    await silent.meter.close();
  });

  it('is lost when it answers nothing at all any more', async () => {
    let off = false;
    const { meter, lost } = await meterWith(() => (off ? null : undefined));
    await meter.configure({ ...automatic, range: { coversOhms: '1000' }, integrationCycles: 0.02 });
    off = true;
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-lost' });
    expect(await lost).toBe('meter-lost');
  });

  it('waits for a reading as long as its integration time needs', () => {
    // 100 cycles of 50 Hz last 2 s, with auto-zero 4 s; on a slow range change eight times.
    expect(readingDeadline({ range: 'fixed', integrationCycles: '100' })).toBeGreaterThan(4000);
    expect(readingDeadline({ range: 'auto', integrationCycles: '100' })).toBeGreaterThan(32_000);
    expect(readingDeadline({ range: 'fixed', integrationCycles: '0.02' })).toBeLessThan(3000);
  });
});
