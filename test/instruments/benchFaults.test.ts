import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { referenceNear, referenceOf } from '../../instruments/bench/reference.ts';
import { type BenchScenarioInput, readScenario, scenarioForPart } from '../../instruments/bench/scenario.ts';
import { exactBench } from './exactBench.ts';

const LEAD_OHMS = 0.5;
const OVERLOAD = 9.9e37;

/** A lot of one exact value, a meter without noise: every reading below is Ohm's law by hand. */
function benchOf(nominalOhms: number, scenario: BenchScenarioInput = {}) {
  const bench = new Bench(
    readScenario({
      seed: 5,
      leadOhms: LEAD_OHMS,
      ...exactBench(nominalOhms),
      referenceUncertaintyPpm: 0,
      ...scenario,
      meter: { noisePpmOfRange: 0, pace: 'none', ...scenario.meter },
    }),
  );
  const send = (message: string) => execute(bench, message);
  const reads = async (name: string, place: string | number) =>
    Number(await send(`BENC:PLAC ${place};:FUNC "${name}";:READ?`));
  return { bench, send, reads };
}

describe('leads', () => {
  // What each place reads in 2-wire and in 4-wire: a piece of 100 Ω, tips held together, the reference of 100 Ω, nothing.
  it.each([
    ['GOOD', [100.5, 0.5, 100.5, OVERLOAD], [100, 0, 100, OVERLOAD]],
    ['BROKen', [OVERLOAD, OVERLOAD, OVERLOAD, OVERLOAD], [OVERLOAD, OVERLOAD, OVERLOAD, OVERLOAD]],
    ['POOR', [105.5, 5.5, 105.5, OVERLOAD], [100, 0, 100, OVERLOAD]],
    ['SHORted', [0.5, 0.5, 0.5, 0.5], [0, 0, 0, 0]],
  ])('that are %s', async (state, twoWire, fourWire) => {
    const { reads, send } = benchOf(100);
    await send(`BENC:FAUL LEAD,${state}`);
    for (const [index, place] of [1, 'SHOR', 'REF', 'OPEN'].entries()) {
      expect(await reads('RES', place)).toBeCloseTo(twoWire[index] ?? Number.NaN, 4);
      expect(await reads('FRES', place)).toBeCloseTo(fourWire[index] ?? Number.NaN, 4);
    }
  });

  it('that are unsteady jump from reading to reading, in 2-wire', async () => {
    const { reads } = benchOf(100, { leads: { state: 'unsteady' } });
    const found: number[] = [];
    for (let count = 0; count < 20; count++) found.push(await reads('RES', 'SHOR'));
    for (const [index, ohms] of found.entries()) {
      expect(ohms).toBeGreaterThan(LEAD_OHMS + 0.019);
      expect(ohms).toBeLessThan(LEAD_OHMS + 3.01);
      if (index > 0) expect(Math.abs(ohms - (found[index - 1] ?? ohms))).toBeGreaterThan(0.59);
    }
    expect(await reads('FRES', 'SHOR')).toBeCloseTo(0, 4);
  });

  it('of which a sense lead hangs free read in 4-wire what 2-wire reads', async () => {
    const { reads, send } = benchOf(100, { leads: { senseOpen: true } });
    for (const place of [1, 'SHOR', 'REF']) expect(await reads('FRES', place)).toBe(await reads('RES', place));
    await send('BENC:FAUL SENS,GOOD');
    expect(await reads('FRES', 'SHOR')).toBeCloseTo(0, 4);
  });
});

describe('good contacts', () => {
  it('differ a little each time the probes are put on a piece, not from reading to reading, and not in 4-wire', async () => {
    const { send, reads } = benchOf(100, { contactSpreadOhms: 0.002 });
    const placed: number[] = [];
    for (let count = 0; count < 400; count++) {
      placed.push(await reads('RES', 1));
      if (count < 10) expect(Number(await send('READ?'))).toBe(placed.at(-1));
    }
    const mean = placed.reduce((sum, ohms) => sum + ohms, 0) / placed.length;
    const spread = Math.sqrt(placed.reduce((sum, ohms) => sum + (ohms - mean) ** 2, 0) / (placed.length - 1));
    // 2 mΩ, of which three standard deviations are the most; each within four standard errors.
    expect(Math.abs(mean - 100 - LEAD_OHMS)).toBeLessThan((4 * 0.002) / Math.sqrt(400));
    expect(Math.abs(spread - 0.002)).toBeLessThan((4 * 0.002) / Math.sqrt(800));
    expect(await reads('FRES', 1)).toBe(await reads('FRES', 1));
  });

  it('are the same for the same seed, piece and count of placings, whatever else was touched', async () => {
    const scenario = { contactSpreadOhms: 0.002 };
    const straight = benchOf(100, scenario);
    const wanted = [await straight.reads('RES', 5), await straight.reads('RES', 5)];
    const wandering = benchOf(100, scenario);
    await wandering.reads('RES', 9);
    const first = await wandering.reads('RES', 5);
    await wandering.reads('RES', 'SHOR');
    expect([first, await wandering.reads('RES', 5)]).toEqual(wanted);
    expect(wanted[0]).not.toBe(wanted[1]);
  });
});

describe('a live part', () => {
  it('shows on DC volts wherever the probes are on the fixture, and nowhere else', async () => {
    const { reads } = benchOf(100, { fixtureVolts: 12 });
    for (const place of [1, 2, 'FIXT']) expect(await reads('VOLT', place)).toBeCloseTo(12, 5);
    for (const place of ['OPEN', 'SHOR', 'REF']) expect(await reads('VOLT', place)).toBe(0);
  });

  // Ohm's law: 1 mA on the 1 kΩ range, so 50 mV count as 50 Ω; 0.1 mA on the 10 kΩ range, so they count as 500 Ω.
  it.each([
    [0.05, 1e3, 100 + LEAD_OHMS + 50],
    [-0.05, 1e3, 100 + LEAD_OHMS - 50],
    [0.05, 1e4, 100 + LEAD_OHMS + 500],
    [-0.2, 1e3, 100 + LEAD_OHMS - 200],
    [12, 1e4, OVERLOAD],
    [-12, 1e4, OVERLOAD],
  ])('of %d V reads on the %d Ω range as %d Ω', async (volts, range, ohms) => {
    const { reads, send } = benchOf(100);
    await send(`BENC:FAUL VOLT,${volts};:RES:RANG ${range}`);
    expect(await reads('RES', 1)).toBeCloseTo(ohms, 2);
    expect(await reads('RES', 'REF')).toBeCloseTo(100.5, 2);
  });

  it('does not show through broken leads, nor through leads that touch each other', async () => {
    const { reads, send } = benchOf(100, { fixtureVolts: 12 });
    for (const state of ['BROK', 'SHOR']) {
      await send(`BENC:FAUL LEAD,${state}`);
      expect(await reads('VOLT', 'FIXT')).toBe(0);
    }
  });
});

describe('a meter that is off', () => {
  it('by a gain error shows so many millionths too much', async () => {
    const { reads, send } = benchOf(1000, { leadOhms: 0, meter: { gainErrorPpm: 500 } });
    // 500 ppm of 1 kΩ are 0.5 Ω.
    expect(await reads('RES', 'REF')).toBeCloseTo(1000.5, 4);
    await send('BENC:FAUL GAIN,-200');
    expect(await reads('FRES', 1)).toBeCloseTo(999.8, 4);
  });

  it('by drift is off by more with each reading', async () => {
    const { reads, send } = benchOf(1000, { leadOhms: 0, meter: { driftPpmPerReading: 50 } });
    for (let count = 0; count < 10; count++) expect(await reads('RES', 1)).toBeCloseTo(1000 * (1 + count * 50e-6), 3);
    // After ten readings of 50 ppm each.
    expect(Number(await send('BENC:FAUL? GAIN'))).toBeCloseTo(500, 9);
    await send('BENC:FAUL DRIF,0;FAUL GAIN,0');
    expect(await reads('RES', 1)).toBeCloseTo(1000, 4);
  });
});

describe('the air', () => {
  it('is what the thermometer reads', async () => {
    const { reads, send } = benchOf(100, { ambientCelsius: 31 });
    expect(await reads('TEMP', 'OPEN')).toBeCloseTo(31, 1);
    await send('BENC:FAUL AMB,-5.5');
    expect(await reads('TEMP', 'OPEN')).toBeCloseTo(-5.5, 1);
  });
});

describe('an error in the queue', () => {
  it('can be planted, and counts as any other', async () => {
    const { send } = benchOf(100);
    await send('*CLS;:BENC:FAUL ERR,-222;FAUL ERR,-310');
    // IEEE 488.2 11.5.1.1: execution error is bit 4, device-dependent error bit 3.
    expect(await send('*ESR?;:SYST:ERR?;ERR?;ERR?')).toBe(
      '24;-222,"Data out of range";-310,"System error";0,"No error"',
    );
  });
});

describe('faults', () => {
  it('can be asked for, and all be mended', async () => {
    const { send, bench } = benchOf(100, {
      leads: { state: 'unsteady', senseOpen: true },
      fixtureVolts: -3,
      ambientCelsius: 40,
      meter: { gainErrorPpm: 7, driftPpmPerReading: 1 },
    });
    const all = 'BENC:FAUL? LEADS;FAUL? SENS;FAUL? VOLT;FAUL? GAIN;FAUL? DRIF;FAUL? AMB';
    const zero = '+0.00000000E+00';
    expect(await send(all)).toBe('UNST;OPEN;-3.00000000E+00;+7.00000000E+00;+1.00000000E+00;+4.00000000E+01');
    await send('BENC:FAUL NONE');
    expect(await send(all)).toBe(`GOOD;GOOD;${zero};${zero};${zero};+2.30000000E+01`);
    expect(bench.status.errorCount).toBe(0);
  });

  it('stay when the meter is switched off and on', async () => {
    const { send } = benchOf(100);
    await send('BENC:FAUL LEAD,BROK;:BENC:REST');
    expect(await send('BENC:FAUL? LEAD')).toBe('BROK');
  });
});

describe('the reference resistor', () => {
  it('is always within the uncertainty written on it', () => {
    fc.assert(
      fc.property(fc.nat(1e8), fc.double({ min: 0.1, max: 1e8, noNaN: true }), (seed, nominalOhms) => {
        const { seed: _, ...part } = {
          seed,
          nominalOhms,
          lowerOhms: nominalOhms * 0.99,
          upperOhms: nominalOhms * 1.01,
        };
        const reference = referenceOf(readScenario(scenarioForPart({ seed, ...part })));
        expect(reference.uncertaintyOhms).toBeCloseTo(reference.nominalOhms * 100e-6, 6);
        expect(Math.abs(reference.trueOhms - reference.nominalOhms)).toBeLessThanOrEqual(
          reference.uncertaintyOhms * (1 + 1e-9),
        );
      }),
    );
  });

  it.each([
    [4700, 5000],
    [1000, 1000],
    [47, 50],
    [1.2, 1],
    [0.025, 1],
    [3.3e6, 5e6],
    [2.2e6, 2e6],
    [1e9, 1e8],
  ])('for a lot of %d Ω has %d Ω', (lot, reference) => {
    expect(referenceNear(lot)).toBe(reference);
  });

  it('says what is written on it', async () => {
    const { send } = benchOf(4700, { referenceUncertaintyPpm: 100 });
    // 100 ppm of 5 kΩ are 0.5 Ω.
    expect(await send('BENC:REF?')).toBe('+5.00000000E+03,+5.00000000E-01');
    const given = benchOf(4700, { referenceOhms: 1234, referenceUncertaintyPpm: 0 });
    expect(await given.send('BENC:REF?')).toBe('+1.23400000E+03,+0.00000000E+00');
    expect(await given.reads('FRES', 'REF')).toBe(1234);
  });
});
