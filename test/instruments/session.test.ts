import { describe, expect, it, vi } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';
import { serveBench } from '../../instruments/bench/serve.ts';
import { Session, type SessionWays } from '../../instruments/scpi/session.ts';
import { openInProcess } from '../../instruments/transport/inProcess.ts';
import type { LineSettings } from '../../instruments/transport/lineSettings.ts';
import { one, scriptedInstrument, several, withRegister } from './scriptedInstrument.ts';

type Odd = (message: string, send: (text: string) => void, usual: () => string | null) => void;

interface Given {
  ways?: SessionWays;
  line?: Partial<LineSettings>;
  /** What it does with a message; as usual unless the test says otherwise. */
  odd?: Odd;
  answer?: (unit: string) => string | null;
}

const asUsual: Odd = (_message, send, usual) => {
  const said = usual();
  if (said !== null) send(`${said}\n`);
};

/** A session with an instrument that answers every unit with `answer`, and messages as the test says. */
function instrument({ ways = several, line = {}, odd = asUsual, answer = (unit) => `<${unit}>` }: Given = {}) {
  const respond = withRegister(answer);
  const { connection, far, heard } = scriptedInstrument(
    (message, send) => odd(message, send, () => respond(message)),
    line,
  );
  const lost = Promise.withResolvers<string>();
  // A poor source of random numbers that repeats itself, so that avoiding the last numbers is tried out.
  let drawn = 0;
  const session = new Session(connection, {
    random: () => (drawn++ % 4) / 4,
    ways,
    onLost: (why) => lost.resolve(why.code),
  });
  return { session, far, heard, lost: lost.promise };
}

const numberless = (heard: string[]) => heard.map((line) => line.replace(/\d+/g, 'n'));
const PROOF = '*ESE n;*ESE?;*ESE n;*ESE?';
const isProof = (message: string) => numberless([message])[0] === PROOF;

describe('a session with an instrument that takes several commands in a message', () => {
  it('proves step with two numbers before the first question, and not again', async () => {
    const { session, heard } = instrument();
    expect(session.state).toBe('opening');
    expect(await session.ask(['A?'], 1000)).toEqual(['<A?>']);
    expect(session.state).toBe('ready');
    expect(await session.ask(['B?', '*ESR?'], 1000)).toEqual(['<B?>', '<*ESR?>']);
    expect(numberless(heard)).toEqual([PROOF, '*ESE n;*ESE?;:A?;*ESE?', '*ESE n;*ESE?;:B?;*ESR?;*ESE?']);
    await session.close();
    expect(session.state).toBe('closed');
  });

  it('writes a number of eight bits each time, none that was used of late', async () => {
    const { session, heard } = instrument();
    for (let question = 0; question < 30; question++) await session.ask(['A?'], 1000);
    const numbers = heard.flatMap((line) => Array.from(line.matchAll(/\*ESE (\d+)/g), ([, number]) => Number(number)));
    expect(Math.max(...numbers)).toBeLessThan(256);
    for (const [index, number] of numbers.entries()) expect(numbers.slice(index + 1, index + 16)).not.toContain(number);
    await session.close();
  });

  it('never takes a late answer for the answer to the next question', async () => {
    let owed = '';
    const { session, heard } = instrument({
      odd: (message, send, usual) => {
        const said = usual();
        if (message.includes('SLOW?')) {
          owed = `${said}\n`;
          return;
        }
        // The old answer comes in front of the next one, whatever was asked: the instrument works in order.
        send(`${owed}${said}\n`);
        owed = '';
      },
    });
    await expect(session.ask(['SLOW?'], 20)).rejects.toMatchObject({ code: 'meter-silent' });
    expect(session.state).toBe('unsynchronised');
    expect(await session.ask(['NEXT?'], 1000)).toEqual(['<NEXT?>']);
    expect(numberless(heard)).toEqual([PROOF, '*ESE n;*ESE?;:SLOW?;*ESE?', PROOF, '*ESE n;*ESE?;:NEXT?;*ESE?']);
    await session.close();
  });

  it.each([
    ['answers doubled', (said: string) => `${said}\n${said}\n`],
    ['an older answer in front', (said: string) => `<A?>;0\n${said}\n`],
    ['a number too many', (said: string) => `1;${said}\n`],
    ['an answer without its number', (said: string) => `${said.replace(/;\d+$/, '')}\n`],
    ['an answer without its first bytes', (said: string) => `${said.slice(said.indexOf(';') + 2)}\n`],
    ['an answer cut in two', (said: string) => `${said.slice(0, 2)}\n${said.slice(2)}\n`],
  ])('does not count %s, and proves step anew', async (_what, make) => {
    let makeOdd = false;
    const { session, heard } = instrument({
      odd: (message, send, usual) => {
        const said = usual() ?? '';
        send(makeOdd && !isProof(message) ? make(said) : `${said}\n`);
      },
    });
    await session.ask(['A?'], 1000);
    makeOdd = true;
    const answer = await session.ask(['B?'], 1000).catch((failure) => failure.code);
    // The first of two equal answers is the right one; the second leaves its doubt.
    expect(answer).toEqual(_what === 'answers doubled' ? ['<B?>'] : 'answer-out-of-step');
    makeOdd = false;
    await expect.poll(() => session.state).toBe('unsynchronised');
    expect(await session.ask(['C?'], 1000)).toEqual(['<C?>']);
    expect(numberless(heard).filter((line) => line === PROOF)).toHaveLength(2);
    await session.close();
  });

  it('knows a refused question at once, by the field that is missing, and stays in step', async () => {
    const { session, heard } = instrument({ answer: (unit) => (unit === 'BAD?' ? null : `<${unit}>`) });
    await expect(session.ask(['GOOD?', 'BAD?'], 60_000)).rejects.toMatchObject({ code: 'question-refused' });
    expect(session.state).toBe('ready');
    expect(await session.ask(['GOOD?'], 1000)).toEqual(['<GOOD?>']);
    expect(heard.filter(isProof)).toHaveLength(1);
    await session.close();
  });

  it('counts fields outside quotes only (IEEE 488.2 8.7.8)', async () => {
    const entry = `-113,"Undefined header;FOO?"`;
    const { session } = instrument({ answer: (unit) => (unit === 'SYST:ERR?' ? entry : "'it''s; so'") });
    expect(await session.ask(['SYST:ERR?', 'TEXT?'], 1000)).toEqual([entry, "'it''s; so'"]);
    await session.close();
  });

  it('asks what is answered by text to the end of the line alone, with the number right behind it', async () => {
    const { session, heard } = instrument({ answer: () => 'Example,Bench meter,1;2,3' });
    expect(await session.askAlone('*IDN?', 1000)).toBe('Example,Bench meter,1;2,3');
    expect(numberless(heard)).toEqual([PROOF, '*ESE n', '*IDN?', '*ESE?']);
    await session.close();
  });

  it('does not wear the register out where it is kept in memory', async () => {
    const { session, heard } = instrument();
    await session.ask(['A?'], 1000);
    session.spareTheRegister();
    for (const behind of ['*ESE?;*ESE?', '*ESE?']) {
      expect(await session.ask(['A?', '*ESR?'], 1000)).toEqual(['<A?>', '<*ESR?>']);
      expect(heard.at(-1)).toBe(`*ESE?;:A?;*ESR?;${behind}`);
    }
    await session.close();
  });

  it('knows an answer that came twice, or lost its beginning, where the register is spared as well', async () => {
    let before = '';
    let spoil = (answer: string) => answer;
    const respond = withRegister((unit) => `<${unit}>`);
    const { connection } = scriptedInstrument((message, send) => {
      const answer = respond(message) ?? '';
      if (answer !== '') send(`${spoil(answer)}\n`);
      before = answer;
    });
    const session = new Session(connection, { random: Math.random, ways: several, onLost: () => undefined });
    await session.ask(['A?'], 1000);
    session.spareTheRegister();
    const ask = () => session.ask(['A?', 'B?'], 1000);
    const refused = { code: 'answer-out-of-step' };
    await ask();
    spoil = () => before;
    await expect(ask()).rejects.toMatchObject(refused);
    spoil = (answer) => answer;
    await ask();
    spoil = (answer) => answer.slice(answer.indexOf('A'));
    await expect(ask()).rejects.toMatchObject(refused);
    await session.close();
  });

  it('asks one by one what is too long for one message, and refuses what is too long by itself', async () => {
    const { session, heard } = instrument({ line: { longestCommand: 20 } });
    expect(await session.ask(['SENS:RES:NPLC?', 'FUNC?'], 1000)).toEqual(['<SENS:RES:NPLC?>', '<FUNC?>']);
    expect(heard.every((line) => line.length <= 20)).toBe(true);
    await expect(session.ask(['SENSE:RESISTANCE:NPLCYCLES?'], 1000)).rejects.toMatchObject({
      code: 'command-too-long',
    });
    await expect(session.command('SENSE:RESISTANCE:NPLCYCLES 1')).rejects.toMatchObject({ code: 'command-too-long' });
    await session.close();
  });
});

describe('a session with an instrument that takes one command per line', () => {
  it('proves step, and asks for a fresh number behind each answer', async () => {
    const { session, heard } = instrument({ ways: one });
    expect(await session.ask(['A?', 'B?'], 1000)).toEqual(['<A?>', '<B?>']);
    const proof = ['*ESE n', '*ESE?', '*ESE n', '*ESE?'];
    expect(numberless(heard)).toEqual([...proof, '*ESE n', 'A?', 'B?', '*ESE?']);
    await session.close();
  });

  it('does not count an answer that was cut in two, nor one that came too late', async () => {
    let odd = '';
    const { session } = instrument({
      ways: one,
      odd: (message, send, usual) => {
        const said = usual();
        if (said === null) return;
        if (message === 'A?' && odd === 'cut') send('+4.7\n0213E+03\n');
        else if (message === 'A?' && odd === 'late') return;
        else send(`${said}\n`);
      },
    });
    odd = 'cut';
    await expect(session.ask(['A?'], 1000)).rejects.toMatchObject({ code: 'answer-out-of-step' });
    odd = 'late';
    await expect(session.ask(['A?'], 20)).rejects.toMatchObject({ code: 'meter-silent' });
    odd = '';
    expect(await session.ask(['A?'], 1000)).toEqual(['<A?>']);
    await session.close();
  });
});

describe('a session', () => {
  it('goes on proving step however often it failed', async () => {
    vi.useFakeTimers();
    try {
      const { session } = instrument({ odd: () => undefined });
      // More proofs than there are numbers of eight bits.
      for (let question = 0; question < 150; question++) {
        const silent = expect(session.ask(['A?'], 10)).rejects.toMatchObject({ code: 'meter-silent' });
        await vi.advanceTimersByTimeAsync(20_000);
        await silent;
      }
    } finally {
      vi.useRealTimers();
    }
  });

  it('says what came where the proof never did', async () => {
    const { session } = instrument({ odd: (_message, send) => send('+4.70E+03\n') });
    await expect(session.ask(['A?'], 1000)).rejects.toMatchObject({
      code: 'meter-not-in-step',
      what: expect.stringContaining('+4.70E+03'),
    });
    await session.close();
  });

  it('says so where the instrument takes one command per line and was taken for another', async () => {
    const { session } = instrument({
      odd: (message, send, usual) => {
        const said = usual();
        if (!message.includes(';') && said !== null) send(`${said}\n`);
      },
    });
    await expect(session.ask(['A?'], 1000)).rejects.toMatchObject({
      code: 'meter-not-in-step',
      what: expect.stringContaining('none to several commands in one message'),
      toDo: expect.stringContaining('one command per line'),
    });
    await session.close();
  });

  it('does not take readings that look like the numbers for the proof', async () => {
    let refuse = true;
    const { session, heard } = instrument({
      odd: (_message, send, usual) => {
        const said = usual() ?? '';
        // Once readings of the very same values, not as NR1, and no proof.
        send(refuse ? `${said.replace(/\d+/g, '+$&.0E+00')}\n` : `${said}\n`);
        refuse = false;
      },
    });
    expect(await session.ask(['A?'], 1000)).toEqual(['<A?>']);
    expect(numberless(heard)).toEqual([PROOF, PROOF, '*ESE n;*ESE?;:A?;*ESE?']);
    expect(heard[0]).not.toBe(heard[1]);
    await session.close();
  });

  it('is out of step after a line nobody asked for, after garbage, and after a line without end', async () => {
    for (const garbage of ['7\n', '\u00ff\u0000\n', 'x'.repeat(5000)]) {
      const { session, far } = instrument();
      await session.ask(['A?'], 1000);
      await new Promise<void>((sent) => {
        far.write(garbage, 'latin1', () => sent());
      });
      expect(session.state).toBe('unsynchronised');
      // The end of the line without end is the proof's own, so the first proof is lost and the second holds.
      expect(await session.ask(['B?'], 1000)).toEqual(['<B?>']);
      expect(session.state).toBe('ready');
      await session.close();
    }
  });

  it.each([
    ['answer-too-long', 'x'.repeat(5000)],
    ['answer-garbled', '+4.7\u0000E+03\n'],
    ['answer-garbled', '\u00b1\u00d3\n'],
  ])('rejects a question by %s', async (code, bytes) => {
    const { session } = instrument({
      odd: (message, send, usual) => send(isProof(message) ? `\n${usual()}\n` : bytes),
    });
    await expect(session.ask(['A?'], 1000)).rejects.toMatchObject({ code });
    expect(session.state).toBe('unsynchronised');
    await session.close();
  });

  it('finds out while it proves step that the line echoes, and leaves the echo out', async () => {
    for (const ways of [several, one]) {
      const { session } = instrument({
        ways,
        odd: (message, send, usual) => {
          const said = usual();
          send(`${message}\r\n${said === null ? '' : `${said}\n`}`);
        },
      });
      await session.command('*CLS');
      expect(await session.ask(['A?', 'B?'], 1000)).toEqual(['<A?>', '<B?>']);
      await session.command('*CLS');
      expect(await session.ask(['A?'], 1000)).toEqual(['<A?>']);
      expect(session.state).toBe('ready');
      await session.close();
    }
  });

  it('does not count a reading when the echo begins later, and then leaves it out', async () => {
    let echo = false;
    const { session } = instrument({
      odd: (message, send, usual) => send(`${echo ? `${message}\n` : ''}${usual()}\n`),
    });
    await session.ask(['A?'], 1000);
    echo = true;
    await expect(session.ask(['A?'], 1000)).rejects.toMatchObject({ code: 'line-echoes' });
    expect(session.state).toBe('unsynchronised');
    expect(await session.ask(['A?'], 1000)).toEqual(['<A?>']);
    await session.close();
  });

  it('has one question on the line at a time and keeps their order', async () => {
    let open = 0;
    const { session, heard } = instrument({
      odd: (_message, send, usual) => {
        expect(++open).toBe(1);
        setImmediate(() => {
          open--;
          send(`${usual()}\n`);
        });
      },
    });
    const questions = ['A?', 'B?', 'C?', 'D?'];
    const answers = await Promise.all(questions.map((question) => session.ask([question], 1000)));
    expect(answers.flat()).toEqual(questions.map((question) => `<${question}>`));
    expect(numberless(heard.slice(1))).toEqual(questions.map((question) => `*ESE n;*ESE?;:${question};*ESE?`));
    await session.close();
  });

  it('leaves the time between commands that the line or the dialect wants', async () => {
    const times: number[] = [];
    const { session } = instrument({
      ways: one,
      line: { delayMilliseconds: 15 },
      odd: (_message, send, usual) => {
        times.push(performance.now());
        const said = usual();
        if (said !== null) send(`${said}\n`);
      },
    });
    await session.ask(['A?'], 1000);
    const pauses = times.slice(1).map((time, index) => time - (times[index] ?? 0));
    expect(Math.min(...pauses)).toBeGreaterThan(13);
    await session.close();
  });

  it('ends every open question when the connection is lost, and when it is closed', async () => {
    const cut = instrument({
      odd: (message, send, usual) => (isProof(message) ? send(`${usual()}\n`) : cut.far.destroy()),
    });
    const asked = [cut.session.ask(['A?'], 5000), cut.session.ask(['B?'], 5000)];
    for (const question of asked) await expect(question).rejects.toMatchObject({ code: 'meter-lost' });
    expect(await cut.lost).toBe('meter-lost');
    expect(cut.session.state).toBe('lost');
    expect(() => cut.session.ask(['C?'], 5000)).toThrow(expect.objectContaining({ code: 'meter-lost' }));
    await cut.session.close();

    const silent = instrument({ odd: () => undefined });
    const open = silent.session.ask(['A?'], 60_000);
    const refused = expect(open).rejects.toMatchObject({ code: 'meter-lost' });
    await silent.session.close();
    await refused;
    expect(silent.session.state).toBe('closed');
  });

  it('keeps step with a bench whose reading takes longer than the deadline', async () => {
    const bench = new Bench(readScenario({ seed: 5 }));
    const connection = openInProcess('sim:', (end) => serveBench(end, bench));
    const session = new Session(connection, { random: Math.random, ways: several, onLost: () => undefined });
    await session.command('CONF:RES;:RES:NPLC 10');
    await expect(session.ask(['READ?'], 30)).rejects.toMatchObject({ code: 'meter-silent' });
    expect(await session.askAlone('*IDN?', 1000)).toBe('Reelohm,Simulated bench,5,1.0');
    await session.close();
  });
});
