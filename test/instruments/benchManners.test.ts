import { connect } from 'node:net';
import { type Duplex, duplexPair } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import {
  type BenchScenario,
  type BenchScenarioInput,
  MANNER_NAMES,
  readScenario,
} from '../../instruments/bench/scenario.ts';
import { serveBench, serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { functionsOf, functionWord, isAsked } from '../../instruments/meter/dialect.ts';
import { dialectNamed } from '../../instruments/meter/shippedDialects.ts';
import { exactBench } from './exactBench.ts';

type Manner = BenchScenario['meter']['manner'];

// 4.7 kΩ on leads of 0.08 Ω, without noise: every piece reads 4700.08 Ω in 2-wire.
function scenarioOf(manner: Manner, meter: BenchScenarioInput['meter'] = {}): BenchScenarioInput {
  return {
    seed: 5,
    ...exactBench(4700),
    meter: { manner, noisePpmOfRange: 0, pace: 'none', ...meter },
  };
}

function benchOf(manner: Manner) {
  const bench = new Bench(readScenario(scenarioOf(manner)));
  return { bench, send: (message: string) => execute(bench, message) };
}

describe('a meter that needs remote control', () => {
  it('refuses all but common commands until SYST:REM, and again after power-on', async () => {
    const { send, bench } = benchOf('needs-remote');
    expect(await send('*IDN?')).toBe('Reelohm,Simulated bench,5,1.0');
    const refused = async () => {
      for (const message of ['READ?', 'CONF:FRES', 'FUNC?', 'SYST:ERR?']) expect(await send(message)).toBeNull();
      expect(await send('*ESE 7;*ESE?;*ESR?')).toMatch(/^7;/);
      expect(bench.status.takeError()).toMatch(/^-201,"Invalid while in local/);
    };
    await refused();
    expect(await send('SYST:REM;*CLS;:BENC:PLAC 1;:READ?;:SYST:ERR?')).toBe('+4.700080E+03;0,"No error"');
    await send('BENC:REST');
    await refused();
    await send('SYST:REM;:SYST:LOC');
    await refused();
  });

  it('lets hands move before that, since they are not the meter', async () => {
    const { send } = benchOf('needs-remote');
    expect(await send('BENC:PLAC 4;PLAC?')).toBe('4');
  });
});

describe('a meter without 4-wire', () => {
  it('does not know FRES and does everything else', async () => {
    const { send } = benchOf('two-wire-only');
    await send('*CLS');
    for (const message of ['CONF:FRES', 'SENS:FRES:RANG 100', 'FRES:NPLC?', 'MEAS:FRES?']) {
      expect(await send(message)).toBeNull();
      expect(await send('SYST:ERR?')).toMatch(/^-113,"Undefined header/);
    }
    await send('FUNC "FRES"');
    expect(await send('SYST:ERR?')).toMatch(/^-224,/);
    expect(await send('BENC:PLAC 1;:MEAS:RES?;:MEAS:VOLT?;:SYST:ERR?')).toMatch(/^\+4\.700080E\+03;.*;0,"No error"$/);
  });
});

describe('a meter with other words', () => {
  it('knows its own and not the usual ones', async () => {
    const { send } = benchOf('other-words');
    for (const message of ['CONF:RES', 'FUNC?', 'RES:RANG 1E4', 'READ?', 'MODE BEEP', 'SPAN 1E12', 'SPEED 0']) {
      expect(await send(`*CLS;:${message}`)).toBeNull();
      expect(await send('SYST:ERR:COUN?')).toBe('1');
    }
    await send('*CLS;:MODE OHMS4;:SPAN 4700;:SPEED 5;:BENC:PLAC 1');
    expect(await send('MODE?;:SPAN?;:SPAN:AUTO?;:SPEED?;:TAKE?')).toBe(
      'OHMS4;+1.00000000E+04;0;+1.00000000E+01;+4.700000E+03',
    );
    expect(await send('SPAN AUTO;:SPAN:AUTO?;:MODE OHMS2;:MODE?;:TAKE?;*ESR?')).toBe('1;OHMS2;+4.700080E+03;0');
  });
});

describe('a meter that sends more than a number', () => {
  it('sends the unit behind the value', async () => {
    const { send } = benchOf('value-and-unit');
    expect(await send('BENC:PLAC 1;:READ?')).toBe('+4.700080E+03 OHM');
    expect(await send('FETC?;*ESE 3;*ESE?')).toBe('+4.700080E+03 OHM;3');
    expect(await send('MEAS:TEMP?')).toMatch(/^\+2\.\d{3}E\+01 C$/);
    expect(await send('MEAS:VOLT?')).toMatch(/ V$/);
    expect(await send('BENC:PLAC OPEN;:MEAS:RES?')).toBe('+9.90000000E+37 OHM');
  });

  it('sends value, unit and a running number', async () => {
    const { send } = benchOf('several-values');
    expect(await send('BENC:PLAC 1;:READ?;:READ?')).toBe('+4.700080E+03,OHM,1;+4.700080E+03,OHM,2');
    expect(await send('FETC?')).toBe('+4.700080E+03,OHM,2');
    expect(await send('BENC:REST;:READ?')).toBe('+4.700080E+03,OHM,1');
  });
});

describe('a meter that takes one command per message', () => {
  it('refuses a message of several whole', async () => {
    const { send, bench } = benchOf('one-command');
    await send('*CLS');
    expect(await send('*ESE 41;:BENC:PLAC 1;:READ?;*ESE?')).toBeNull();
    expect(bench.placed).toBe('OPEN');
    expect(await send('*ESE?')).toBe('0');
    // IEEE 488.2 11.5.1.1: command error is bit 5.
    expect(await send('*ESR?')).toBe('32');
    expect(await send('SYST:ERR?')).toMatch(/^-102,"Syntax error/);
    await send('*ESE 41');
    await send('BENC:PLAC 1');
    expect(await send('READ?')).toBe('+4.700080E+03');
    expect(await send('*ESE?')).toBe('41');
  });
});

describe('each way a meter behaves', () => {
  const asked = MANNER_NAMES.filter((name) => name !== 'talker');

  // The dialect of the same name says what the station sends to such a meter.
  it.each(asked)('understands all that its dialect says: %s', async (manner) => {
    const dialect = dialectNamed(manner === 'plain' ? 'scpi' : manner);
    if (!isAsked(dialect)) throw new Error('a dialect that asks was expected');
    const { bench, send } = benchOf(manner);
    const noErrors = (what: string) => expect([what, bench.status.takeError()]).toEqual([what, '0,"No error"']);
    if (dialect.remote) await send(dialect.remote);
    await send('BENC:PLAC 1');
    noErrors('remote control');
    for (const name of functionsOf(dialect)) {
      const words = dialect.functions[name];
      for (const command of words?.configure ?? []) await send(command);
      noErrors(`to set ${name}`);
      expect(words?.names).toContain(functionWord((await send(dialect.function?.ask ?? '')) ?? ''));
      if (words && 'range' in words && words.range) {
        await send(words.range.set.replace('{ohms}', '4.7E+3'));
        expect(Number(await send(words.range.ask))).toBe(1e4);
        expect(Number(await send(words.range.isAuto))).toBe(0);
        await send(words.range.auto);
        expect(Number(await send(words.range.isAuto))).toBe(1);
      }
      if (words && 'cycles' in words && words.cycles) {
        await send(words.cycles.set.replace('{cycles}', '1'));
        expect(Number(await send(words.cycles.ask))).toBe(1);
      }
      expect(await send(dialect.reading?.ask ?? '')).not.toBeNull();
      noErrors(`to use ${name}`);
    }
  });
});

/** Lines a talker sends, and the way to end it. */
function listen(duplex: Duplex): { lines: (count: number) => Promise<string[]> } {
  let text = '';
  duplex.setEncoding('latin1');
  duplex.on('data', (chunk: string) => {
    text += chunk;
  });
  return {
    lines: async (count) => {
      while (text.split('\r\n').length <= count) await new Promise((resolve) => duplex.once('data', resolve));
      const found = text.split('\r\n').slice(0, count);
      text = text.split('\r\n').slice(count).join('\r\n');
      return found;
    },
  };
}

describe('a meter that talks unasked', () => {
  const QUICK = { pauseMilliseconds: 1 };

  it('sends a reading with its unit again and again, of whatever the probes touch, and takes no commands', async () => {
    const bench = new Bench(readScenario(scenarioOf('talker', { talker: QUICK })));
    const [near, far] = duplexPair();
    const served = serveBench(far, bench);
    const { lines } = listen(near);
    expect(await lines(2)).toEqual(['OL', 'OL']);
    near.write('*IDN?\nBENC:PLAC 1\n');
    expect(await lines(3)).toEqual(['OL', 'OL', 'OL']);
    bench.place(1);
    // At 1 cycle a step is a millionth of the 10 kΩ range: 0.01 Ω.
    const readings = await lines(5);
    expect(readings.at(-1)).toBe('+4.70008E+03 OHM');
    bench.conditions.fixtureVolts = 3;
    bench.select('VOLT');
    expect((await lines(5)).at(-1)).toBe('+3.00000E+00 V');
    expect(bench.status.errorCount).toBe(0);
    near.destroy();
    far.destroy();
    await served;
  });

  it('goes through the pieces by its schedule, from the beginning at each connection', async () => {
    const schedule: NonNullable<NonNullable<BenchScenarioInput['meter']>['talker']>['schedule'] = [
      { place: 'OPEN', readings: 1 },
      { place: 'NEXT', readings: 2 },
    ];
    const scenario = { ...scenarioOf('talker', { talker: { ...QUICK, schedule } }) };
    scenario.lot = { ...scenario.lot, spreadPercent: 1 };
    const server = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario });
    const port = Number(new URL(server.address).port);
    const round = async () => {
      const socket = connect(port, '127.0.0.1');
      const found = await listen(socket).lines(9);
      socket.destroy();
      return found;
    };
    try {
      const first = await round();
      expect(first.map((line) => line === 'OL')).toEqual([true, false, false, true, false, false, true, false, false]);
      expect(first[1]).toBe(first[2]);
      expect(new Set(first).size).toBe(4);
      expect(await round()).toEqual(first);
      expect(server.bench.manner.commands).toEqual([]);
    } finally {
      await server.close();
    }
  });

  it('keeps its pace', async () => {
    const bench = new Bench(readScenario(scenarioOf('talker', { talker: { pauseMilliseconds: 50 } })));
    const [near, far] = duplexPair();
    const served = serveBench(far, bench);
    const begun = performance.now();
    await listen(near).lines(5);
    // Four pauses between five readings; a timer may be a millisecond early.
    expect(performance.now() - begun).toBeGreaterThan(190);
    near.destroy();
    far.destroy();
    await served;
  });
});
