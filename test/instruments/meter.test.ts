import { afterEach, describe, expect, it } from 'vitest';
import { ScpiError } from '../../instruments/bench/grammar.ts';
import type { BenchScenarioInput } from '../../instruments/bench/scenario.ts';
import type { Meter, MeterSetting } from '../../instruments/meter/meter.ts';
import { exactBench } from './exactBench.ts';
import { meterWith, type Odd } from './quirkyMeter.ts';

const scenario: BenchScenarioInput = {
  seed: 4,
  ...exactBench(130),
  leadOhms: 0.5,
  ambientCelsius: 21.5,
  meter: { pace: 'none' },
};
const automatic: MeterSetting = { function: '2-wire', range: 'auto', integrationCycles: 10 };
const quick: MeterSetting = { ...automatic, range: { coversOhms: '1000' }, integrationCycles: 0.02 };

const opened: Meter[] = [];
afterEach(async () => {
  for (const meter of opened.splice(0)) await meter.close();
});

async function meterOf(odd: Odd = () => undefined, over: { dialect?: string; serial?: boolean } = {}) {
  const made = await meterWith(odd, { scenario, ...over });
  opened.push(made.meter);
  return made;
}

describe('a meter that is asked', () => {
  it('is asked twice who it is, so that a garbled word is not taken for another meter', async () => {
    let asked = 0;
    const odd: Odd = (message) => (message === '*IDN?' && ++asked === 2 ? 'Reel0hm,Simulated bench,4,1.0' : undefined);
    await expect(meterOf(odd)).rejects.toMatchObject({ code: 'answer-garbled' });
  });

  it('is taken into remote control on a serial line before the first question, and given back', async () => {
    const { meter, heard } = await meterOf(undefined, { serial: true });
    expect(heard[0]).toBe('SYST:REM');
    expect(heard[1]).toMatch(/^\*ESE \d+;\*ESE\?/);
    expect(meter.identity).toMatchObject({ maker: 'Reelohm', model: 'Simulated bench', serial: '4', simulated: true });
    expect(meter.dialect).toBe('scpi');
    expect(meter.measures).toEqual(['2-wire', '4-wire', 'continuity', 'dc-volts', 'temperature']);
    await meter.close();
    await expect.poll(() => heard.at(-1)).toBe('SYST:LOC');
  });

  it('reports its setting as it reads it back', async () => {
    const { meter } = await meterOf();
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
    const { meter } = await meterOf();
    await meter.hands?.place(1);
    await meter.configure(automatic);
    const twoWire = await meter.read();
    await meter.configure({ ...automatic, function: '4-wire' });
    const fourWire = await meter.read();
    if (twoWire.kind !== 'value' || fourWire.kind !== 'value') throw new Error('no value');
    expect(Number(twoWire.ohms)).toBeCloseTo(130.5, 1);
    expect(Number(fourWire.ohms)).toBeCloseTo(130, 1);
  });

  it('asks value, function and event status in one message', async () => {
    const { meter, heard } = await meterOf();
    await meter.configure(automatic);
    heard.length = 0;
    await meter.read();
    expect(heard.map((message) => message.replace(/\d+/, 'n'))).toEqual(['*ESE n;*ESE?;:READ?;:FUNC?;*ESR?;*ESE?']);
  });

  it('tells a piece just above a fixed range from an open one, and sets the range back', async () => {
    const { meter, told } = await meterOf();
    await meter.configure({ ...automatic, range: { coversOhms: '100' } });
    await meter.hands?.place(1);
    expect(await meter.read()).toMatchObject({ kind: 'value' });
    await meter.hands?.lift();
    const text = '+9.90000000E+37';
    expect(await meter.read()).toEqual({ kind: 'overload', raw: text, said: text });
    await meter.hands?.short();
    told.length = 0;
    expect(await meter.read()).toMatchObject({ kind: 'value' });
    expect(told).toEqual(['READ?', 'FUNC?', '*ESR?']);
  });

  it('refuses to go on when the range is not set back', async () => {
    let reading = false;
    const { meter, told } = await meterOf((unit) => (unit === 'RES:RANG 1E+2' && reading ? null : undefined));
    await meter.configure({ ...automatic, range: { coversOhms: '100' } });
    reading = true;
    await expect(meter.read()).rejects.toMatchObject({ code: 'setting-not-taken' });
    await expect(meter.read()).rejects.toMatchObject({ code: 'setting-not-taken' });
    // When the meter takes its range again it is set and checked from the start before a reading counts.
    reading = false;
    told.length = 0;
    await expect(meter.read()).resolves.toMatchObject({ kind: 'overload' });
    expect(told).toContain('CONF:RES');
  });

  it('names the error of a setting the meter refuses', async () => {
    const { meter } = await meterOf();
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
    ['range', 'RES:RANG:AUTO?', 'MAYBE'],
    ['integration', 'RES:NPLC?', '+1.00000000E+00'],
  ])('does not take another %s than asked for (%s: %s)', async (_, question, answer) => {
    const { meter } = await meterOf((unit) => (unit === question ? answer : undefined));
    await expect(meter.configure(automatic)).rejects.toMatchObject({ code: 'setting-not-taken' });
  });

  it.each([
    ['+9.91E+37', 'answer-not-a-number'],
    ['OVERRNG', 'answer-unreadable'],
    ['+2.20E+', 'answer-unreadable'],
    ['+2.2+1.0E+3', 'answer-unreadable'],
    ['NaN', 'answer-unreadable'],
    ['0x10', 'answer-unreadable'],
    ['9.9E38', 'answer-unreadable'],
    ['+1.2E+03,+1.2E+03', 'answer-unreadable'],
    ['+1.2E+03 OHM', 'answer-unreadable'],
    ['1,2', 'answer-unreadable'],
    ['1;41', 'answer-out-of-step'],
    ['2.2\u0000', 'answer-garbled'],
  ])('does not count %s', async (answer, code) => {
    let odd = true;
    const { meter } = await meterOf((unit) => (unit === 'READ?' && odd ? answer : undefined));
    await meter.configure(automatic);
    await expect(meter.read()).rejects.toMatchObject({ code });
    odd = false;
    await expect(meter.read()).resolves.toMatchObject({ kind: 'overload' });
  });

  it('measures volts, temperature and continuity, and is set anew before the next reading', async () => {
    const { meter, told } = await meterOf();
    await meter.hands?.fixture();
    await meter.configure(automatic);
    const volts = await meter.readOther('dc-volts');
    expect(Math.abs(Number(volts.value))).toBeLessThan(0.01);
    expect(Number((await meter.readOther('temperature')).value)).toBeCloseTo(21.5, 0);
    await meter.hands?.lift();
    expect(await meter.readOther('continuity')).toMatchObject({ value: null });
    told.length = 0;
    await meter.hands?.short();
    expect(Number((await meter.read()).raw)).toBeCloseTo(0.5, 1);
    expect(told).toContain('CONF:RES');
    await expect(
      (await meterOf(undefined, { dialect: 'two-wire-only' })).meter.readOther('4-wire'),
    ).rejects.toMatchObject({
      code: 'function-missing',
    });
  });
});

describe('a meter that is interfered with', () => {
  it('tells that it was switched off and on, and is set anew before a reading counts', async () => {
    const { meter, bench, told } = await meterOf();
    await meter.configure({ function: '4-wire', range: { coversOhms: '131' }, integrationCycles: 1 });
    bench.restart();
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-restarted' });
    told.length = 0;
    await meter.read();
    const begin = told.indexOf('*CLS');
    expect(told.slice(begin, begin + 4)).toEqual(['*CLS', 'CONF:FRES', 'FRES:RANG 1.31E+2', 'FRES:NPLC 1']);
    expect(told.indexOf('READ?')).toBeGreaterThan(begin + 4);
    expect(bench.function).toBe('FRES');
  });

  it('tells what happened before when it is set, before clearing would lose it', async () => {
    const { meter, bench } = await meterOf();
    await meter.configure(automatic);
    bench.restart();
    await expect(meter.configure(automatic)).rejects.toMatchObject({ code: 'meter-restarted' });
    bench.restart();
    await expect(meter.readOther('dc-volts')).rejects.toMatchObject({ code: 'meter-restarted' });
    bench.status.note(new ScpiError(-222));
    await expect(meter.configure(automatic)).rejects.toMatchObject({ code: 'meter-error' });
    await expect(meter.configure(automatic)).resolves.toMatchObject({ range: 'auto' });
  });

  it('tells that it was switched off and on when it refuses everything until it is under remote control', async () => {
    const { meter, bench } = await meterWith(() => undefined, {
      scenario: { ...scenario, meter: { pace: 'none', manner: 'needs-remote' } },
      dialect: 'needs-remote',
    });
    opened.push(meter);
    await meter.configure(quick);
    bench.restart();
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-restarted' });
    await expect(meter.read()).resolves.toMatchObject({ kind: 'overload' });
  });

  it('tells that its function was changed at the front panel, and is set back before a reading counts', async () => {
    const { meter, bench } = await meterOf();
    await meter.configure(automatic);
    bench.select('VOLT');
    await expect(meter.read()).rejects.toMatchObject({
      code: 'function-changed',
      what: 'The meter measures dc-volts now instead of 2-wire',
    });
    await meter.read();
    expect(bench.function).toBe('RES');
  });

  it.each([
    [-113, 'Undefined header'],
    [-222, 'Data out of range'],
    [-350, 'Queue overflow'],
  ] as const)('does not count a reading that came with the error %i', async (number, words) => {
    const { meter, bench } = await meterOf();
    await meter.configure(automatic);
    bench.status.note(new ScpiError(number));
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-error', what: expect.stringContaining(words) });
    await expect(meter.read()).resolves.toMatchObject({ kind: 'overload' });
  });

  it('does not count a reading whose event status tells an error that the queue does not', async () => {
    let status: string | undefined;
    const { meter } = await meterOf((unit) => (unit === '*ESR?' ? status : undefined));
    await meter.configure(automatic);
    status = '8';
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-error' });
    status = '1';
    await expect(meter.read()).resolves.toMatchObject({ kind: 'overload' });
    status = '256';
    await expect(meter.read()).rejects.toMatchObject({ code: 'answer-unreadable' });
  });
});

describe('a meter that does not answer', () => {
  it('has refused when its error queue says so', async () => {
    const { meter } = await meterOf((unit, bench) => {
      if (unit !== 'READ?') return undefined;
      bench.status.note(new ScpiError(-230));
      return null;
    });
    await meter.configure(quick);
    await expect(meter.read()).rejects.toMatchObject({
      code: 'meter-error',
      what: expect.stringContaining('-230,"Data corrupt or stale"'),
    });
  });

  it('has left out an answer when nothing else is known', async () => {
    const { meter } = await meterOf((unit) => (unit === 'READ?' ? null : undefined));
    await meter.configure(quick);
    await expect(meter.read()).rejects.toMatchObject({ code: 'question-refused' });
  });

  it('is lost when it answers nothing at all any more', async () => {
    let off = false;
    const { meter, lost } = await meterOf(() => (off ? null : undefined));
    await meter.configure(quick);
    off = true;
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-lost' });
    expect(await lost).toBe('meter-lost');
  });
});

describe('the register that proves step', () => {
  it.each([
    ['in memory that wears out', '0', 0],
    ['in memory that is cleared', '1', 1],
    ['in a meter without the question', null, 1],
  ])('%s is written %#', async (_, keeps, writes) => {
    const { meter, heard } = await meterOf((unit) => (unit === '*PSC?' ? keeps : undefined));
    await meter.hands?.short();
    await meter.configure(quick);
    heard.length = 0;
    await meter.read();
    expect(heard.join(';').match(/\*ESE \d+/g) ?? []).toHaveLength(writes);
  });
});
