import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';

let bench: Bench;
const send = (message: string) => execute(bench, message);

async function errors(): Promise<string[]> {
  const found: string[] = [];
  for (;;) {
    const error = await send('SYST:ERR?');
    if (error === null || error.startsWith('0,')) return found;
    found.push(error);
  }
}

beforeEach(() => {
  bench = new Bench(readScenario({ seed: 3, lot: { shareOpen: 0, shareWrong: 0 }, meter: { pace: 'none' } }));
});

describe('the grammar of the simulated bench', () => {
  // SCPI-1999 volume 1, 6.2.1: the short form or the whole long form, in any case, and nothing between.
  it('knows short and long forms in any case, and nothing between', async () => {
    for (const header of ['SYST:ERR?', 'system:error?', 'SYSTem:ERRor:NEXT?', ':SYST:ERROR:next?', 'SYST:ERR? ']) {
      expect(await send(header)).toBe('0,"No error"');
    }
    for (const header of ['SYSTE:ERR?', 'SYS:ERR?', 'SYST:ERRO?', 'SYST:ERR:NEX?']) {
      expect(await send(header)).toBeNull();
      expect((await errors())[0]).toMatch(/^-113,"Undefined header/);
    }
  });

  // SCPI-1999 volume 1, 6.2.4; the example of scpi-facts: `SENS:RES:RANG:AUTO?;NPLC?` is -113.
  it('goes on in the same branch after a semicolon, and at the root after semicolon and colon', async () => {
    expect(await send('SENS:RES:RANG:AUTO?;NPLC?')).toBe('1');
    expect(await errors()).toEqual(['-113,"Undefined header;NPLC"']);
    expect(await send('SENS:RES:NPLC?;RANG?')).toBe('+1.00000000E+01;+1.00000000E+03');
    expect(await send('SENS:RES:RANG:AUTO?;:SENS:RES:NPLC?')).toBe('1;+1.00000000E+01');
    expect(await send('RES:RANG:UPP 100;AUTO?')).toBe('0');
    expect(await errors()).toEqual([]);
  });

  // IEEE 488.2 and SCPI-1999 volume 1, 6.2.4: common commands don't move the branch.
  it('does not move the branch for common commands', async () => {
    expect(await send('RES:NPLC?;*ESE 9;*ESE?;RANG:AUTO?')).toBe('+1.00000000E+01;9;1');
    expect(await errors()).toEqual([]);
  });

  it('pairs a reading with a number in one message', async () => {
    await send('BENC:PLAC 1');
    expect(await send('*ESE 41;:READ?;*ESE?')).toMatch(/^\+\d\.\d{6}E\+03;41$/);
  });

  it('answers number, reading, function and events of one message, each as a field', async () => {
    await send('*CLS;:BENC:PLAC 1');
    expect(await send('*ESE 41;:READ?;:FUNC?;*ESR?;*ESE?')).toMatch(/^\+\d\.\d{6}E\+03;"RES";0;41$/);
    // IEEE 488.2 11.5.1.1: command error is bit 5; the refused query has no field.
    expect(await send('*ESE 42;:REED?;:FUNC?;*ESR?;*ESE?')).toBe('"RES";32;42');
  });

  // scpi-facts: `MEAS:RES? 1E12;*ESE?` was answered with just `7`.
  it('leaves out the field of a query that fails', async () => {
    expect(await send('*ESE 7;:MEAS:RES? 1E12;*ESE?')).toBe('7');
    expect(await errors()).toEqual(['-222,"Data out of range;1000000000000"']);
  });

  // IEEE 488.2 table 7-2: with OHM the M is mega.
  it.each([
    ['1 MOHM', '+1.00000000E+06'],
    ['1MOHM', '+1.00000000E+06'],
    ['0.001 MAOHM', '+1.00000000E+03'],
    ['4.7kohm', '+1.00000000E+04'],
    ['100 OHM', '+1.00000000E+02'],
    ['1.5E+3', '+1.00000000E+04'],
    ['1.5 E 3', '+1.00000000E+04'],
    ['MIN', '+1.00000000E+02'],
    ['MAXimum', '+1.00000000E+08'],
    ['DEF', '+1.00000000E+03'],
  ])('takes a range of %s as %s', async (wanted, range) => {
    expect(await send(`RES:RANG ${wanted};:RES:RANG?`)).toBe(range);
    expect(await errors()).toEqual([]);
  });

  // Numbers and texts: SCPI-1999 volume 2, 21.8.9 to 21.8.12.
  it.each([
    ['FOO', -113],
    ['*FOO?', -113],
    ['RES:RANG', -109],
    ['*ESE', -109],
    ['*CLS 1', -108],
    ['RES:RANG 1 VOLT', -131],
    ['RES:NPLC 1 OHM', -131],
    ['RES:RANG 1E9', -222],
    ['RES:RANG -5', -222],
    ['RES:NPLC 1000', -222],
    ['*ESE 256', -222],
    ['RES:RANG "1"', -104],
    ['FUNC RES', -104],
    ['FUNC "CURR"', -224],
    ['CONF:CONT 100', -108],
    ['CONT:RANG 100', -113],
    ['VOLT:RANG 1 OHM', -131],
    ['VOLT:RANG 2000', -222],
    ['RES:RANG:AUTO "ON"', -104],
    ['*PSC', -109],
    ['*PSC 40000', -222],
    ['FUNC "RES', -151],
    ['RES:RANG:AUTO PERHAPS', -224],
    ['RES:RANG 1,2', -108],
    ['RES:RANG 1 2', -102],
    ['FETC?', -230],
    ['RES::RANG 1', -102],
    ['RES:RANG \u00b5', -101],
    ['BENC:PLAC 0', -222],
    ['BENC:PLAC 1.5', -222],
    ['BENC:PLAC NOWHERE', -224],
    ['BENC:PLAC 1 OHM', -131],
    ['BENC:FAUL LEAD', -109],
    ['BENC:FAUL LEAD,TORN', -224],
    ['BENC:FAUL MOOD,1', -224],
    ['BENC:FAUL NONE,1', -108],
    ['BENC:FAUL VOLT,1E6', -222],
    ['BENC:FAUL GAIN,MAX', -104],
    ['BENC:FAUL ERR,-999', -224],
    ['BENC:FRON "CURR"', -224],
  ])('answers nothing to %j and notes %i', async (message, number) => {
    expect(await send(message)).toBeNull();
    const found = await errors();
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(new RegExp(`^${number},"`));
  });

  // SCPI-1999 volume 2, 21.8.1: the last entry of a full queue is -350.
  it('keeps a bounded error queue', async () => {
    for (let count = 0; count < 25; count++) await send('FOO');
    expect(await send('SYST:ERR:COUN?')).toBe('20');
    const found = await errors();
    expect(found).toHaveLength(20);
    expect(found.at(-1)).toBe('-350,"Queue overflow"');
  });

  // IEEE 488.2 11.5.1: bit 5 command error, bit 4 execution error, bit 0 operation complete, bit 7 power on.
  it('reports events and clears them by reading', async () => {
    expect(await send('*ESR?')).toBe('128');
    await send('FOO;*OPC;RES:RANG 1E9');
    expect(await send('*ESR?')).toBe('49');
    expect(await send('*ESR?')).toBe('0');
    // IEEE 488.2 11.2: bit 5 event summary, bit 6 master summary; SCPI: bit 2 error queue.
    await send('*ESE 32;*SRE 32;FOO');
    expect(await send('*STB?')).toBe('100');
    expect(await send('*CLS;*STB?;*ESE?;*SRE?')).toBe('0;32;32');
  });

  it('answers *OPC?, *TST?, SYST:VERS?, CONF? and FUNC?', async () => {
    expect(await send('*OPC?;*TST?;:SYST:VERS?')).toBe('1;0;1999.0');
    expect(await send("FUNC 'FRES';FUNC?;:CONF?")).toBe('"FRES";"FRES +1.00000000E+03,+1.00000000E-04"');
    expect(await send('CONF:RES 10E3, 0.1;CONF?')).toBe(null);
    expect(await errors()).toEqual(['-113,"Undefined header;CONF"']);
    expect(await send('CONF?;:RES:NPLC?;RANG:AUTO?')).toBe('"RES +1.00000000E+04,+1.00000000E-01";+2.00000000E-02;0');
    expect(await send('*RST;:RES:RANG:AUTO?;:RES:NPLC?')).toBe('1;+1.00000000E+01');
  });

  // SCPI-1999 volume 2, 3: FETCh? gives the same acquisition again until the setup changes.
  it('fetches the same reading again until the setting changes', async () => {
    await send('BENC:PLAC 2;:CONF:RES;:INIT');
    const first = await send('FETC?');
    expect(await send('FETC?')).toBe(first);
    expect(await send('READ?')).not.toBe(first);
    await send('RES:NPLC 1');
    expect(await send('FETC?')).toBeNull();
    expect(await errors()).toEqual(['-230,"Data corrupt or stale"']);
  });

  it('moves the probes', async () => {
    expect(await send('BENCh:PLACe?')).toBe('OPEN');
    expect(await send('BENC:PLAC 17;PLAC?')).toBe('17');
    expect(await send('BENC:PLAC SHORT;PLAC?')).toBe('SHOR');
    expect(await send('BENC:PLAC open;PLAC?')).toBe('OPEN');
    expect(await send('READ?')).toBe('+9.90000000E+37');
    for (const [where, answer] of [
      ['3', '3'],
      ['FIXTure', 'FIXT'],
      ['ref', 'REF'],
      ['SHORT', 'SHOR'],
      ['OPEN', 'OPEN'],
    ]) {
      expect(await send(`BENC:PLAC ${where};PLAC?`)).toBe(answer);
    }
  });

  it('survives any message', async () => {
    const scrap = fc.constantFrom(
      'SENS',
      ':',
      ';',
      '*',
      '?',
      'RES',
      'RANG',
      ' ',
      ',',
      '"',
      "'",
      '1E3',
      'READ',
      'ESE',
      'é',
    );
    await fc.assert(
      fc.asyncProperty(fc.array(fc.oneof(scrap, fc.string({ maxLength: 3 })), { maxLength: 12 }), async (parts) => {
        await send(parts.join(''));
        await errors();
        expect(await send('*IDN?')).toBe('Reelohm,Simulated bench,3,1.0');
      }),
    );
  });
});
