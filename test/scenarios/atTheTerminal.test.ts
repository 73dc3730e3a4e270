import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, it, onTestFinished } from 'vitest';
import { formatCount } from '../../core/quantity/formatCount.ts';
import { drawn } from '../../core/sampling/positions.ts';
import { exampleLot } from '../exampleLot.ts';
import { openPtyTo, socatIsHere } from '../instruments/ptyPair.ts';
import { reelohm, startProgram } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { tinyMeter } from '../tinyMeter.ts';

/** A line that comes sooner after its question than this is a press of before. */
const TOO_SOON_MILLISECONDS = 300;

/**
 * The program with a person at a terminal.
 * @param args no blanks, commas or colons in any of them
 */
function atTerminal(args: string[]) {
  // socat divides its command at blanks.
  const command = [process.execPath, 'main/start.js', ...args].join(' ');
  const child = startProgram('socat', ['-', `EXEC:${command},pty,setsid,ctty,stderr,echo=0`]);
  const ended = once(child, 'exit').then(([status]) => status as number | null);
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
  }
  /** What was said up to and with these words, which are then behind. */
  const until = async (words: string): Promise<string> => {
    await expect.poll(() => said, { interval: 20 }).toContain(words);
    const before = said.slice(0, said.indexOf(words) + words.length);
    said = said.slice(before.length);
    return before;
  };
  return {
    until,
    ended,
    /** Waits for a question that begins with these words, and answers it as a person would. */
    answer: async (question: string, line: string): Promise<void> => {
      await until(question);
      await wait(1.2 * TOO_SOON_MILLISECONDS);
      child.stdin.write(`${line}\n`);
    },
    type: (line: string) => child.stdin.write(`${line}\n`),
  };
}

it('asks for each position at a terminal, with a meter on a serial line, and takes another one by p', async () => {
  if (!socatIsHere()) return;
  const meter = await tinyMeter({});
  const line = await openPtyTo(Number(new URL(meter.address).port));
  onTestFinished(() => line.stop());
  const folder = temporaryFolder();
  const [lot, certificate] = [join(folder, 'lot.json'), join(folder, 'certificate.csv')];
  const plan = { sampleSize: 3, accept: 1 };
  writeFileSync(lot, JSON.stringify({ ...exampleLot(plan), positions: { kind: 'random', seed: 12 } }));
  const [first = 0, second = 0, third = 0] = drawn(12, 5000, 3);
  const { until, answer, type, ended } = atTerminal([
    ...['inspect', lot, '--meter', line.near, '--data', folder, '--certificate', certificate, '--confirm-cautions'],
    ...['--override-calibration', 'made-for-this-test', '--without-reference', 'none-here', '--ambient', '23'],
  ]);
  const check = async () => {
    await until('hold the probes apart');
    meter.ohms = '+9.9E+37';
    await answer('press Enter', '');
    await until('press the probes firmly against each other');
    meter.ohms = '+1.0E-01';
    await answer('press Enter', '');
    await answer('put the probes on the first piece', '');
    meter.ohms = '+4.7012E+03';
  };
  const asked = (position: number, piece: number) =>
    `Next: position ${formatCount(position)} (piece ${piece}): put it on`;
  await check();
  await answer(asked(first, 1), 'p 5 001');
  await until('Position 5001 is not on a reel of 5000 pieces');
  await answer(asked(first, 1), 'p 1 204');
  await answer(asked(1204, 1), '');
  await until(`1/3  piece 1 at position ${formatCount(1204)}  4.70`);
  // The question stands on a line of its own.
  expect(await until(asked(second, 2))).toMatch(/\(0 nonconforming\)\r\nNext: /);
  // Pressed twice is one piece.
  type('');
  await answer('', '');
  await until(`2/3  piece 2 at position ${formatCount(second)}`);
  await answer(asked(third, 3), 'v');
  await answer('Why should reading 2 not count?', 'it slipped');
  await answer(asked(second, 2), '');
  await until(`2/3  piece 2 at position ${formatCount(second)}`);
  await answer(asked(third, 3), '');
  await check();
  expect(await ended).toBe(0);
  const verified = await reelohm(['verify', certificate]);
  expect(verified.status, verified.err).toBe(0);
  expect(readFileSync(certificate, 'utf8')).toContain('it slipped');
});
