import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { ScpiError } from '../../instruments/bench/grammar.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';
import { type Dialect, dialectSchema } from '../../instruments/meter/dialect.ts';
import type { Meter, MeterSetting } from '../../instruments/meter/meter.ts';
import { dialectNamed, shippedDialects } from '../../instruments/meter/shippedDialects.ts';
import { exactBench } from './exactBench.ts';
import { meterWith } from './quirkyMeter.ts';

const opened: Meter[] = [];
afterEach(async () => {
  for (const meter of opened.splice(0)) await meter.close();
});

const setting: MeterSetting = { function: '2-wire', range: { coversOhms: '5000' }, integrationCycles: 1 };
const scenario = { seed: 4, ...exactBench(4700), leadOhms: 0, meter: { pace: 'none', noisePpmOfRange: 0 } } as const;
const withTrigger = shippedDialects.filter(({ trigger }) => trigger !== null).map(({ name }) => name);
const manner = (name: string) => (name === 'scpi' ? 'plain' : name);

async function meterOf(dialect = 'scpi') {
  const made = await meterWith(() => undefined, {
    dialect,
    scenario: { ...scenario, meter: { ...scenario.meter, manner: manner(dialect) as never } },
  });
  opened.push(made.meter);
  await made.meter.configure(setting);
  await made.meter.hands?.place(1);
  return made;
}

/** Waits for the trigger, and says whether anything has come yet. */
function waiting(meter: Meter) {
  const stop = new AbortController();
  let came = false;
  const reading = meter.awaitTrigger(stop.signal).finally(() => {
    came = true;
  });
  reading.catch(() => undefined);
  return { reading, stop: () => stop.abort(), hasCome: () => came };
}

describe.each(withTrigger)("the meter's own trigger in the dialect %s", (dialect) => {
  it('takes one reading when it comes, not before, and readings begin at once again', async () => {
    const { meter, bench } = await meterOf(dialect);
    expect(meter.hasTrigger).toBe(true);
    const { reading, hasCome } = waiting(meter);
    await wait(120);
    expect(hasCome()).toBe(false);
    expect(bench.trigger.source).toBe('EXT');
    await execute(bench, 'BENC:TRIG');
    expect(await reading).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^4700(\.0+)?$/) });
    expect(bench.trigger).toMatchObject({ source: 'IMM', isWaiting: false });
    expect(bench.status.errorCount).toBe(0);
    expect(await meter.read()).toMatchObject({ kind: 'value' });
    // The end of what was abandoned is not taken for the next trigger.
    const again = waiting(meter);
    await wait(60);
    expect(again.hasCome()).toBe(false);
    await execute(bench, 'BENC:TRIG');
    expect(await again.reading).toMatchObject({ kind: 'value' });
  });

  it('is waited for no longer when that is not wanted any more', async () => {
    const { meter, bench } = await meterOf(dialect);
    const { reading, stop } = waiting(meter);
    await wait(50);
    stop();
    expect(await reading).toBeNull();
    expect(bench.trigger).toMatchObject({ source: 'IMM', isWaiting: false });
    expect(await meter.read()).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^4700(\.0+)?$/) });
  });
});

describe("the meter's own trigger", () => {
  it('gives a piece above the fixed range as overload', async () => {
    const { meter, bench } = await meterOf();
    await meter.hands?.lift();
    const { reading } = waiting(meter);
    await wait(30);
    await bench.press();
    expect(await reading).toMatchObject({ kind: 'overload' });
  });

  it('does not count when the meter was turned or switched off meanwhile, and it is set anew', async () => {
    const { meter, bench } = await meterOf();
    const turned = waiting(meter);
    await wait(30);
    bench.select('VOLT');
    await bench.press();
    await expect(turned.reading).rejects.toMatchObject({ code: 'function-changed' });
    expect(await meter.read()).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^4700(\.0+)?$/) });
    expect(bench.trigger.source).toBe('IMM');
    const restarted = waiting(meter);
    await wait(30);
    bench.restart();
    await expect(restarted.reading).rejects.toMatchObject({ code: 'meter-restarted' });
    expect(await meter.read()).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^4700(\.0+)?$/) });
  });

  it('is refused by a meter that does not know it, which then reads as before', async () => {
    const made = await meterWith(
      (unit, bench) => {
        if (!unit.startsWith('TRIG')) return undefined;
        bench.status.note(new ScpiError(-113, unit));
        return null;
      },
      { scenario },
    );
    opened.push(made.meter);
    await made.meter.configure(setting);
    await made.meter.hands?.place(1);
    const { reading } = waiting(made.meter);
    await expect(reading).rejects.toMatchObject({ code: 'meter-error' });
  });

  it('is missing where the dialect has no words for it', async () => {
    const { meter } = await meterOf('other-words');
    expect(meter.hasTrigger).toBe(false);
    await expect(meter.awaitTrigger(new AbortController().signal)).rejects.toMatchObject({ code: 'trigger-missing' });
    expect(dialectNamed('talker').trigger).toBeNull();
  });

  it('needs the event status, by which it shows, and is nothing for a talker', () => {
    const words = dialectNamed('scpi');
    const faultsOf = (dialect: unknown) =>
      dialectSchema.safeParse(dialect).error?.issues.map(({ path }) => path.join('.')) ?? [];
    expect(faultsOf({ ...words, events: null } satisfies Dialect)).toEqual(['trigger']);
    expect(faultsOf({ ...dialectNamed('talker'), trigger: words.trigger })).toContain('trigger');
    expect(faultsOf({ ...words, longestCommand: 11 })).toContain('trigger.external');
  });
});

describe('the trigger of the simulated bench (SCPI-1999 volume 2, 24)', () => {
  const benchOf = (hands = {}) => new Bench(readScenario({ ...scenario, hands }));

  it('makes READ? wait, and FETCh? and *OPC? behind INITiate', async () => {
    const bench = benchOf();
    bench.place(1);
    const reading = execute(bench, 'TRIG:SOUR EXT;:READ?');
    await wait(10);
    await bench.press();
    expect(Number(await reading)).toBeCloseTo(4700, 1);
    await execute(bench, 'INIT');
    const fetched = execute(bench, '*OPC?;FETC?');
    await wait(10);
    expect(bench.trigger.isWaiting).toBe(true);
    await bench.press();
    expect(await fetched).toMatch(/^1;\+4\.70/);
    expect(await execute(bench, 'TRIG:SOUR?')).toBe('EXT');
    await execute(bench, 'CONF:RES');
    expect(await execute(bench, 'TRIG:SOUR?')).toBe('IMM');
  });

  it('notes the end in the event status when *OPC was told, and not after *CLS (IEEE 488.2 10.18, 10.3)', async () => {
    const bench = benchOf();
    await execute(bench, '*CLS;:TRIG:SOUR EXT;:INIT;*OPC');
    expect(await execute(bench, '*ESR?')).toBe('0');
    await bench.press();
    expect(await execute(bench, '*ESR?')).toBe('1');
    await execute(bench, 'INIT;*OPC;*CLS');
    await bench.press();
    expect(await execute(bench, '*ESR?')).toBe('0');
    expect(await execute(bench, '*OPC;*ESR?')).toBe('1');
  });

  it('is pressed by hands that go on by themselves, once for each piece', async () => {
    const bench = benchOf({ shareSlips: 0 });
    await execute(bench, 'CONF:RES 10000;:RES:NPLC 1;:TRIG:SOUR EXT;:BENC:HAND AUTO,5,2');
    for (const piece of [5, 6, 7]) {
      await execute(bench, 'INIT');
      const said = await execute(bench, 'FETC?');
      expect(Number(said)).toBeCloseTo(4700, 0);
      expect(bench.hands.piece).toBe(piece);
    }
  });
});
