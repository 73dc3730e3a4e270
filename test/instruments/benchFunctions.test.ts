import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { exactBench } from './exactBench.ts';

// A lot of exactly 100 Ω on leads of 0.5 Ω, read without noise: what the meter shows is arithmetic.
function benchOf(scenario: BenchScenarioInput = {}) {
  const { meter, ...rest } = scenario;
  const bench = new Bench(
    readScenario({
      seed: 5,
      leadOhms: 0.5,
      ...exactBench(100),
      ...rest,
      meter: { noisePpmOfRange: 0, pace: 'none', ...meter },
    }),
  );
  const send = (message: string) => execute(bench, message);
  return { bench, send, number: async (message: string) => Number(await send(message)) };
}

describe('the functions of the simulated meter', () => {
  it.each([
    ['CONF:RES', '"RES"', 100.5],
    ['CONF:FRES', '"FRES"', 100],
    ['CONF:CONT', '"CONT"', 100.5],
    ['CONF:VOLT', '"VOLT"', 12],
    ['CONF:VOLT:DC', '"VOLT"', 12],
    ['CONFigure:TEMPerature', '"TEMP"', 23],
    ["SENS:FUNC 'VOLT:DC'", '"VOLT"', 12],
    ["FUNC 'CONTinuity'", '"CONT"', 100.5],
    ["FUNC:ON 'temp'", '"TEMP"', 23],
  ])('measures by %s', async (command, name, value) => {
    const { send, number, bench } = benchOf({ fixtureVolts: name === '"VOLT"' ? 12 : 0 });
    await send(`BENC:PLAC 1;:${command}`);
    expect(await send('FUNC?')).toBe(name);
    expect(await number('READ?')).toBeCloseTo(value, 1);
    expect(await number('FETC?')).toBeCloseTo(value, 1);
    expect(bench.status.errorCount).toBe(0);
  });

  it.each([
    ['MEAS:CONT?', 100.5],
    ['MEAS:SCAL:VOLT:DC?', 0],
    ['MEAS:VOLT? 1', 0],
    ['MEASure:TEMPerature?', 23],
    ['MEAS:FRES? 100', 100],
  ])('measures at once by %s', async (query, value) => {
    const { send, number } = benchOf();
    await send('BENC:PLAC 1');
    expect(await number(query)).toBeCloseTo(value, 1);
  });

  it('has ranges and integration times for DC volts as for resistance', async () => {
    const { send } = benchOf();
    expect(await send('CONF:VOLT 5;CONF?')).toBe(null);
    expect(await send('CONF?;:VOLT:RANG?;RANG:AUTO?;:VOLT:DC:NPLC?')).toBe(
      '"VOLT +1.00000000E+01,+1.00000000E-06";+1.00000000E+01;0;+1.00000000E+01',
    );
    expect(await send('VOLT:DC:RANG 200 MV;RANG?;:VOLT:NPLC 1;NPLC?')).toBe('+1.00000000E+00;+1.00000000E+00');
    expect(await send('CONF:CONT;:CONF?')).toBe('"CONT"');
  });

  it('gives continuity in ohms up to 1.2 kΩ and overload above', async () => {
    const at = async (nominalOhms: number) => {
      const { send, number } = benchOf({ ...exactBench(nominalOhms), leadOhms: 0 });
      await send('BENC:PLAC 1;:CONF:CONT');
      return number('READ?');
    };
    expect(await at(1199)).toBeCloseTo(1199, 2);
    expect(await at(1201)).toBe(9.9e37);
  });

  it('has only the functions its scenario gives it', async () => {
    const { send } = benchOf({ meter: { functions: ['2-wire', 'dc-volts'] } });
    for (const command of ['CONF:FRES', 'CONF:CONT', 'FRES:RANG 100', 'MEAS:TEMP?', 'TEMP:NPLC 1']) {
      await send(command);
      expect(await send('SYST:ERR?')).toMatch(/^-113,/);
    }
    await send('FUNC "FRES"');
    expect(await send('SYST:ERR?;:FUNC?')).toBe('-224,"Illegal parameter value;FRES";"RES"');
    await send('CONF:VOLT');
    expect(await send('SYST:ERR?;:FUNC?')).toBe('0,"No error";"VOLT"');
    expect(() => readScenario({ meter: { functions: ['4-wire'] } })).toThrow(
      expect.objectContaining({ code: 'input-invalid' }),
    );
  });

  it('takes longer where the test current has much to charge', async () => {
    // RC: 10 MΩ and 1 nF are 10 ms; 0.02 cycles show five digits, ln(1e5) = 11.51 time constants, 115 ms.
    const milliseconds = async (nominalOhms: number) => {
      const { send } = benchOf({ ...exactBench(nominalOhms), leadOhms: 0, meter: { pace: 'real' } });
      await send(`BENC:PLAC 1;:CONF:RES ${nominalOhms};:RES:NPLC 0.02`);
      const begun = performance.now();
      await send('READ?');
      return performance.now() - begun;
    };
    // A timer counts whole milliseconds and may be one early.
    expect(await milliseconds(1e7)).toBeGreaterThan(113);
    expect(Math.min(await milliseconds(1e3), await milliseconds(1e3), await milliseconds(1e3))).toBeLessThan(100);
  });
});

describe('the power of the simulated meter', () => {
  it('forgets settings, errors and enable registers when it is switched off and on, not what lies on the bench', async () => {
    const { send } = benchOf();
    await send('*CLS;*ESE 9;*SRE 32;:CONF:FRES 1E6;:BENC:PLAC 7;:FOO;:READ?');
    await send('BENC:REST');
    // IEEE 488.2 11.5.1.1: bit 7 is power on.
    expect(await send('*ESR?;*ESE?;*SRE?;:SYST:ERR:COUN?')).toBe('128;0;0;0');
    expect(await send('FUNC?;:FRES:RANG:AUTO?;:BENC:PLAC?')).toBe('"RES";1;7');
    expect(await send('FETC?')).toBeNull();
  });

  // IEEE 488.2 10.25: with 0 the enable registers are kept; any number that does not round to 0 sets the flag.
  it('keeps the enable registers over power-on after *PSC 0', async () => {
    const { send } = benchOf();
    expect(await send('*PSC?')).toBe('1');
    await send('*PSC 0;*ESE 9;*SRE 32;:BENC:REST');
    expect(await send('*PSC?;*ESE?;*SRE?;*ESR?')).toBe('0;9;32;128');
    await send('*PSC -2;:BENC:REST');
    expect(await send('*PSC?;*ESE?')).toBe('1;0');
  });

  it('can be turned to another function at its front panel', async () => {
    const { send } = benchOf({ fixtureVolts: 3 });
    await send('*CLS;:CONF:RES 1E3;:BENC:PLAC 1;:BENC:FRON "VOLT"');
    expect(await send('*ESE 5;:READ?;:FUNC?;*ESR?;*ESE?')).toBe('+3.000000E+00;"VOLT";0;5');
  });
});
