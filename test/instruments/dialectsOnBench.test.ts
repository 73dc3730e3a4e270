import { afterEach, describe, expect, it } from 'vitest';
import { type BenchScenarioInput, MANNER_NAMES } from '../../instruments/bench/scenario.ts';
import { type BenchServer, serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { connectMeter } from '../../instruments/meter/connect.ts';
import type { Meter, MeterFunction, Reading } from '../../instruments/meter/meter.ts';
import { shippedDialects } from '../../instruments/meter/shippedDialects.ts';

const scenario: BenchScenarioInput = {
  seed: 6,
  lot: { nominalOhms: 4700, spreadPercent: 0.2, shareOpen: 0, shareWrong: 0 },
  leadOhms: 0.5,
  meter: { pace: 'none', talker: { pauseMilliseconds: 20 } },
};

const opened: (Meter | BenchServer)[] = [];
afterEach(async () => {
  for (const each of opened.splice(0).reverse()) await each.close();
});

async function meterAt(address: string): Promise<Meter> {
  const meter = await connectMeter(address, { random: Math.random, bench: scenario, onLost: () => undefined });
  opened.push(meter);
  return meter;
}

function ohmsOf(reading: Reading): number {
  if (reading.kind !== 'value') throw new Error(`no value: ${reading.raw}`);
  return Number(reading.ohms);
}

const names = shippedDialects.map((dialect) => dialect.name);
const asked = names.filter((name) => name !== 'talker');
const mannerOf = (dialect: string) => MANNER_NAMES.find((manner) => manner === dialect) ?? 'plain';

describe.each(names)('the dialect %s with a simulated meter of that manner', (dialect) => {
  it('reads pieces, leads and nothing at all', async () => {
    const meter = await meterAt(`sim:?dialect=${dialect}`);
    expect(meter).toMatchObject({ dialect, identity: { simulated: true } });
    await meter.hands?.place(3);
    await meter.configure({ function: '2-wire', range: { coversOhms: '4800' }, integrationCycles: 1 });
    const piece = await meter.read();
    expect(ohmsOf(piece)).toBeGreaterThan(4650);
    expect(ohmsOf(piece)).toBeLessThan(4750);
    expect(Number(piece.raw)).toBe(ohmsOf(piece));
    expect(piece.said).toContain(piece.raw);
    await meter.hands?.lift();
    expect(await meter.read()).toMatchObject({ kind: 'overload' });
    await meter.hands?.short();
    expect(ohmsOf(await meter.read())).toBeCloseTo(0.5, 1);
  });

  it('reads the same pieces as plain SCPI does', async () => {
    const readings = async (name: string) => {
      const meter = await meterAt(`sim:?dialect=${name}`);
      await meter.configure({ function: '2-wire', range: 'auto', integrationCycles: 1 });
      const found: number[] = [];
      for (const piece of [1, 2, 5, 4]) {
        await meter.hands?.place(piece);
        found.push(ohmsOf(await meter.read()));
      }
      return found;
    };
    const plain = await readings('scpi');
    const these = await readings(dialect);
    // A talker has measured more often by then, so its noise is another.
    for (const [index, ohms] of these.entries()) expect(Math.abs(ohms - (plain[index] ?? 0))).toBeLessThan(0.5);
  });
});

describe.each(asked)('the dialect %s', (dialect) => {
  it('measures each function it says the meter has', async () => {
    const meter = await meterAt(`sim:?dialect=${dialect}`);
    await meter.hands?.short();
    await meter.configure({ function: '2-wire', range: 'auto', integrationCycles: 1 });
    const wanted: Record<MeterFunction, number> = {
      '2-wire': 0.5,
      '4-wire': 0,
      continuity: 0.5,
      'dc-volts': 0,
      temperature: 23,
    };
    for (const name of meter.measures) {
      const { value, raw } = await meter.readOther(name);
      expect(Number(value), name).toBeCloseTo(wanted[name], 0);
      expect(Number(raw)).toBe(Number(value));
    }
    expect(ohmsOf(await meter.read())).toBeCloseTo(0.5, 1);
  });

  it('notices what is done to the meter', async () => {
    const meterScenario = { ...scenario, meter: { ...scenario.meter, manner: mannerOf(dialect) } };
    const server = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario: meterScenario });
    opened.push(server);
    const meter = await meterAt(`${server.address}?dialect=${dialect}`);
    await meter.hands?.short();
    await meter.configure({ function: '2-wire', range: { coversOhms: '100' }, integrationCycles: 1 });
    server.bench.select('VOLT');
    await expect(meter.read()).rejects.toMatchObject({ code: 'function-changed' });
    expect(ohmsOf(await meter.read())).toBeCloseTo(0.5, 1);
    server.bench.restart();
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-restarted' });
    expect(ohmsOf(await meter.read())).toBeCloseTo(0.5, 1);
    expect(server.bench.settings.RES).toMatchObject({ auto: false, range: 100, cycles: 1 });
  });
});

describe('a meter of another dialect than was chosen', () => {
  it('gives a named error and never a number', async () => {
    const meters = MANNER_NAMES.filter(
      (manner) => manner !== 'plain' && manner !== 'needs-remote' && manner !== 'two-wire-only',
    );
    for (const manner of meters) {
      const server = await serveBenchOnTcp({
        host: '127.0.0.1',
        port: 0,
        scenario: { ...scenario, meter: { ...scenario.meter, manner } },
      });
      opened.push(server);
      server.bench.place(1);
      const wrong = (async () => {
        const meter = await meterAt(server.address);
        await meter.configure({ function: '2-wire', range: 'auto', integrationCycles: 1 });
        return meter.read();
      })();
      await expect(wrong, manner).rejects.toMatchObject({ name: 'Problem' });
    }
  });
});

it('each dialect has a simulated meter of its manner to be practised with', () => {
  expect(MANNER_NAMES).toEqual(expect.arrayContaining(names.filter((name) => name !== 'scpi')));
});
