import { describe, expect, it, vi } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';
import { serveBench } from '../../instruments/bench/serve.ts';
import { Session } from '../../instruments/scpi/session.ts';
import { openInProcess } from '../../instruments/transport/inProcess.ts';
import { scriptedInstrument } from './scriptedInstrument.ts';

/** A session with an instrument that answers as the test says. */
function instrument(answer: (line: string, send: (text: string) => void) => void) {
  const { connection, far, heard } = scriptedInstrument(answer);
  const lost = Promise.withResolvers<string>();
  // A poor source of random numbers that repeats itself, so that avoiding the last number is tried out.
  let drawn = 0;
  const session = new Session(connection, {
    random: () => (drawn++ % 4) / 4,
    onLost: (why) => lost.resolve(why.code),
  });
  return { session, far, heard, lost: lost.promise };
}

/** The number of a proof of step, if the line is one. */
function proof(line: string): string | null {
  return /^\*ESE (\d+);\*ESE\?$/.exec(line)?.[1] ?? null;
}

describe('a session', () => {
  it('proves step with a number of eight bits before the first question, and not again', async () => {
    const { session, heard } = instrument((line, send) => send(`${proof(line) ?? 'answer'}\n`));
    expect(session.state).toBe('unsynchronised');
    expect(await session.query('A?', 1000)).toBe('answer');
    expect(await session.query('B?', 1000)).toBe('answer');
    expect(session.state).toBe('ready');
    expect(heard.map((line) => line.replace(/\d+/, 'n'))).toEqual(['*ESE n;*ESE?', 'A?', 'B?']);
    expect(Number(proof(heard[0] ?? ''))).toBeLessThan(256);
    await session.close();
  });

  it('never takes a late answer for the answer to the next question', async () => {
    let owed = '';
    const { session } = instrument((line, send) => {
      if (line === 'SLOW?') {
        owed = '+1.00000000E+00\n';
        return;
      }
      // The old answer comes in front of the next one, whatever was asked: the instrument works in order.
      send(`${owed}${proof(line) ?? `answer to ${line}`}\n`);
      owed = '';
    });
    await expect(session.query('SLOW?', 20)).rejects.toMatchObject({ code: 'meter-silent' });
    expect(session.state).toBe('unsynchronised');
    expect(await session.query('NEXT?', 1000)).toBe('answer to NEXT?');
    await session.close();
  });

  it('goes on proving step however often it failed', async () => {
    vi.useFakeTimers();
    try {
      const { session } = instrument(() => undefined);
      // More proofs than there are numbers of eight bits.
      for (let question = 0; question < 150; question++) {
        const silent = expect(session.query('A?', 10)).rejects.toMatchObject({ code: 'meter-silent' });
        await vi.advanceTimersByTimeAsync(10_000);
        await silent;
      }
    } finally {
      vi.useRealTimers();
    }
  });

  it('does not take a late reading that looks like the number for the proof', async () => {
    let refuse = true;
    const { session, heard } = instrument((line, send) => {
      const number = proof(line);
      if (number === null) return send('in step\n');
      // Once a reading of the very same value, not as NR1, and no proof.
      send(refuse ? `+${number}.0E+00\n` : `${number}\n`);
      refuse = false;
    });
    expect(await session.query('A?', 1000)).toBe('in step');
    const [first, second] = heard.map(proof);
    expect(first).not.toBeNull();
    expect(second).not.toBeNull();
    expect(first).not.toBe(second);
    expect(heard[2]).toBe('A?');
    await session.close();
  });

  it('is out of step after a line nobody asked for, and after a line without end', async () => {
    for (const garbage of ['7\n', 'x'.repeat(5000)]) {
      const { session, far } = instrument((line, send) => send(`${proof(line) ?? 'answer'}\n`));
      await session.query('A?', 1000);
      await new Promise<void>((sent) => {
        far.write(garbage, () => sent());
      });
      expect(session.state).toBe('unsynchronised');
      // The end of the line without end is the proof's own, so the first proof is lost and the second holds.
      expect(await session.query('B?', 1000)).toBe('answer');
      expect(session.state).toBe('ready');
      await session.close();
    }
  });

  it('rejects a question whose answer has no end', async () => {
    const { session } = instrument((line, send) =>
      send(proof(line) === null ? 'x'.repeat(5000) : `\n${proof(line)}\n`),
    );
    await expect(session.query('A?', 1000)).rejects.toMatchObject({ code: 'answer-too-long' });
    await session.close();
  });

  it('has one question on the line at a time and keeps their order', async () => {
    let open = 0;
    const { session, heard } = instrument((line, send) => {
      expect(++open).toBe(1);
      setImmediate(() => {
        open--;
        send(`${proof(line) ?? line}\n`);
      });
    });
    const questions = ['A?', 'B?', 'C?', 'D?'];
    expect(await Promise.all(questions.map((question) => session.query(question, 1000)))).toEqual(questions);
    expect(heard.slice(1)).toEqual(questions);
    await session.close();
  });

  it('fails when the proof of step never comes back', async () => {
    const { session } = instrument(() => undefined);
    await expect(session.query('A?', 1000)).rejects.toMatchObject({ code: 'meter-silent' });
    await session.close();
  });

  it('reads the error queue until it is empty, and no more than 30 entries', async () => {
    const queue = ['-113,"Undefined header;FOO?"', '-222,"Data out of range"'];
    const few = instrument((line, send) => send(`${proof(line) ?? queue.shift() ?? '+0,"No error"'}\n`));
    expect(await few.session.errors()).toEqual(['-113,"Undefined header;FOO?"', '-222,"Data out of range"']);
    await few.session.close();
    const endless = instrument((line, send) => send(`${proof(line) ?? '-350,"Queue overflow"'}\n`));
    expect(await endless.session.errors()).toHaveLength(30);
    await endless.session.close();
  });

  it('ends every open question when the connection is lost, and when it is closed', async () => {
    const cut = instrument((line, send) => (proof(line) === null ? cut.far.destroy() : send(`${proof(line)}\n`)));
    const asked = [cut.session.query('A?', 5000), cut.session.query('B?', 5000)];
    for (const question of asked) await expect(question).rejects.toMatchObject({ code: 'meter-lost' });
    expect(await cut.lost).toBe('meter-lost');
    expect(cut.session.state).toBe('lost');
    await expect(cut.session.query('C?', 5000)).rejects.toMatchObject({ code: 'meter-lost' });
    await cut.session.close();

    const silent = instrument(() => undefined);
    const open = silent.session.query('A?', 60_000);
    const refused = expect(open).rejects.toMatchObject({ code: 'meter-lost' });
    await silent.session.close();
    await refused;
    expect(silent.session.state).toBe('closed');
  });

  it('keeps step with a bench whose reading takes longer than the deadline', async () => {
    const bench = new Bench(readScenario({ seed: 5 }));
    const connection = openInProcess('sim:', (end) => serveBench(end, bench));
    const session = new Session(connection, { random: Math.random, onLost: () => undefined });
    await session.command('CONF:RES;:RES:NPLC 10');
    await expect(session.query('READ?', 30)).rejects.toMatchObject({ code: 'meter-silent' });
    expect(await session.query('*IDN?', 1000)).toBe('Reelohm,Simulated bench,5,1.0');
    await session.close();
  });
});
