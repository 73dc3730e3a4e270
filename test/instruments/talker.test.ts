import { afterEach, describe, expect, it, vi } from 'vitest';
import { isTalker } from '../../instruments/meter/dialect.ts';
import type { MeterSetting } from '../../instruments/meter/meter.ts';
import { Pace } from '../../instruments/meter/pace.ts';
import { dialectNamed } from '../../instruments/meter/shippedDialects.ts';
import { prepareTalker, type Talker } from '../../instruments/meter/talker.ts';
import { scriptedInstrument } from './scriptedInstrument.ts';

const setting: MeterSetting = { function: '2-wire', range: { coversOhms: '5000' }, integrationCycles: 1 };

const opened: Talker[] = [];
afterEach(async () => {
  for (const talker of opened.splice(0)) await talker.close();
  vi.useRealTimers();
});

/** A talker whose lines the test says, at times the test says: the clock stands still in between. */
async function listening() {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  const { connection, far, heard } = scriptedInstrument(() => undefined);
  const say = async (text: string, milliseconds = 200) => {
    await vi.advanceTimersByTimeAsync(milliseconds);
    far.write(text, 'latin1');
    await vi.advanceTimersByTimeAsync(0);
    await new Promise((seen) => setImmediate(seen));
  };
  const dialect = dialectNamed('talker');
  if (!isTalker(dialect)) throw new Error('no talker');
  const lost = vi.fn();
  const prepared = prepareTalker(connection, dialect, { hands: null, onLost: (why) => lost(why.code) });
  prepared.then(
    (talker) => opened.push(talker),
    () => undefined,
  );
  return { prepared, say, lost, far, heard };
}

async function ready() {
  const { prepared, ...rest } = await listening();
  for (const line of ['02 OHM\r\n', '4.701 kOhm\r\n', '4.702 kOhm\r\n', '4.702 kOhm\r\n']) await rest.say(line);
  const talker = await prepared;
  const configured = talker.configure(setting);
  for (let line = 0; line < 3; line++) await rest.say('4.700 kOhm\r\n');
  return { talker, found: await configured, ...rest };
}

/** Whether the promise has come to something by now. */
async function isSettled(promise: Promise<unknown>): Promise<boolean> {
  const open = Symbol('open');
  return (await Promise.race([promise.catch(() => null), Promise.resolve(open)])) !== open;
}

describe('a meter that talks unasked', () => {
  it('counts only after two whole lines in a row, the first line apart', async () => {
    const { prepared, say } = await listening();
    // The end of a line that began earlier reads as a number like any other.
    await say('.702 kOhm\r\n');
    expect(await isSettled(prepared)).toBe(false);
    await say('4.702 kOhm\r\n');
    expect(await isSettled(prepared)).toBe(false);
    await say('4.702 kOhm\r\n');
    const talker = await prepared;
    expect(talker.state).toBe('ready');
    expect(talker.identity).toMatchObject({ text: 'not told', simulated: false });
    expect(talker.measures).toEqual(['2-wire', 'dc-volts', 'temperature']);
  });

  it('is told nothing, and reports what it does by itself', async () => {
    const { found, heard, talker } = await ready();
    expect(found).toEqual({ function: '2-wire', range: 'auto', rangeOhms: null, integrationCycles: '1' });
    await expect(talker.configure({ ...setting, function: '4-wire' })).rejects.toMatchObject({
      code: 'function-missing',
    });
    await expect(talker.configure({ ...setting, integrationCycles: 10 })).rejects.toMatchObject({
      code: 'setting-not-taken',
    });
    expect(heard).toEqual([]);
  });

  it('reads the second whole line that began after it was asked', async () => {
    const { talker, say } = await ready();
    await say('4.7', 200);
    const reading = talker.read();
    await say('01 kOhm\r\n', 20);
    await say('4.702 kOhm\r\n');
    expect(await isSettled(reading)).toBe(false);
    await say('4.703 kOhm\r\n');
    expect(await reading).toEqual({ kind: 'value', ohms: '4703', raw: '4.703E+03', said: '4.703 kOhm' });
  });

  it('glances at the next whole line, whenever that began, and not at one that was held back', async () => {
    const { talker, say } = await ready();
    await say('4.7', 200);
    const glance = talker.glance();
    await say('01 kOhm\r\n', 20);
    expect(await glance).toMatchObject({ kind: 'value', ohms: '4701' });
    const next = talker.glance();
    await say('4.702 kOhm\r\n4.703 kOhm\r\n', 200);
    expect(await next).toMatchObject({ ohms: '4702' });
    const late = talker.glance();
    await say('4.704 kOhm\r\n', 30);
    expect(await isSettled(late)).toBe(false);
    await say('OL\r\n');
    expect(await late).toMatchObject({ kind: 'overload' });
    const ofVolts = expect(talker.glanceOnAnyRange()).rejects.toMatchObject({ code: 'function-changed' });
    await say('1.2 V\r\n');
    await ofVolts;
  });

  it('does not count a line that lay in a buffer while the computer was busy', async () => {
    const { talker, say } = await ready();
    const reading = talker.read();
    await say('1.001 kOhm\r\n1.002 kOhm\r\n1.003 kOhm\r\n', 300);
    await say('4.701 kOhm\r\n');
    expect(await isSettled(reading)).toBe(false);
    await say('4.702 kOhm\r\n');
    expect(await reading).toMatchObject({ ohms: '4702' });
  });

  it('reads overload with its unit and without', async () => {
    const { talker, say } = await ready();
    for (const word of ['OL kOhm', 'OL']) {
      const reading = talker.read();
      for (let line = 0; line < 3; line++) await say(`${word}\r\n`);
      expect(await reading).toEqual({ kind: 'overload', raw: '+9.9E+37', said: word });
    }
  });

  it('tells by the unit that its function was changed', async () => {
    const { talker, say } = await ready();
    const reading = expect(talker.read()).rejects.toMatchObject({ code: 'function-changed' });
    for (let line = 0; line < 3; line++) await say('0.002 V\r\n');
    await reading;
    // Overload without a unit is still of the function the last unit showed.
    const overload = expect(talker.read()).rejects.toMatchObject({ code: 'function-changed' });
    for (let line = 0; line < 3; line++) await say('OL\r\n');
    await overload;
    const volts = talker.readOther('dc-volts');
    for (let line = 0; line < 3; line++) await say('1.5 mV\r\n');
    expect(await volts).toEqual({ raw: '1.5E-03', value: '0.0015', said: '1.5 mV' });
    await expect(talker.readOther('continuity')).rejects.toMatchObject({ code: 'function-missing' });
  });

  it.each(['4.702', '4,702 kOhm', '4.702 kOhm 4.703 kOhm', '4.7\u00ff2 kOhm', 'LOW BATT', '4.702 nF'])(
    'does not count "%s", and nothing before two good lines after it',
    async (line) => {
      const { talker, say } = await ready();
      const reading = expect(talker.read()).rejects.toMatchObject({ code: 'answer-unreadable' });
      await say(`${line}\r\n`);
      await reading;
      expect(talker.state).toBe('unsynchronised');
      await say('4.702 kOhm\r\n');
      expect(talker.state).toBe('unsynchronised');
      await say('4.702 kOhm\r\n');
      expect(talker.state).toBe('ready');
    },
  );

  it('is silent when its pace says so, and lost when that goes on', async () => {
    const { talker, say, lost } = await ready();
    const reading = expect(talker.read()).rejects.toMatchObject({ code: 'meter-silent' });
    await vi.advanceTimersByTimeAsync(1100);
    await reading;
    expect(talker.state).toBe('unsynchronised');
    for (let line = 0; line < 3; line++) await say('4.702 kOhm\r\n');
    expect(talker.state).toBe('ready');
    await vi.advanceTimersByTimeAsync(60_000);
    expect(lost.mock.calls).toEqual([['meter-lost']]);
    await expect(talker.read()).rejects.toMatchObject({ code: 'meter-lost' });
  });

  it('is silent from the beginning, or says nothing that can be read', async () => {
    const silent = await listening();
    const nothing = expect(silent.prepared).rejects.toMatchObject({ code: 'meter-silent' });
    await vi.advanceTimersByTimeAsync(60_000);
    await nothing;
    const strange = await listening();
    const unreadable = expect(strange.prepared).rejects.toMatchObject({ code: 'answer-unreadable' });
    for (let line = 0; line < 60; line++) await strange.say('hello\r\n');
    await unreadable;
  });

  it('ends what is under way when it is closed or goes away', async () => {
    const first = await ready();
    const reading = expect(first.talker.read()).rejects.toMatchObject({ code: 'meter-lost' });
    await first.talker.close();
    await reading;
    expect(first.lost).not.toHaveBeenCalled();
    const second = await ready();
    const another = expect(second.talker.read()).rejects.toMatchObject({ code: 'meter-lost' });
    second.far.destroy();
    await another;
    expect(second.lost.mock.calls).toEqual([['meter-lost']]);
  });
});

describe('the pace of a talker', () => {
  it('sets how long silence may last', () => {
    const pace = new Pace();
    const first = pace.silenceMilliseconds;
    expect(first).toBeGreaterThan(3000);
    for (let at = 0; at < 20_000; at += 2000) pace.note(at);
    expect(pace.silenceMilliseconds).toBe(10_000);
    for (let at = 20_000; at < 25_000; at += 100) pace.note(at);
    expect(pace.silenceMilliseconds).toBe(1000);
  });

  it('knows lines that were held back by how close they come', () => {
    const pace = new Pace();
    const bursts = [0, 200, 400, 600, 1400, 1401, 1402, 1600].map((at) => pace.note(at));
    expect(bursts).toEqual([false, false, false, false, false, true, true, false]);
  });
});
