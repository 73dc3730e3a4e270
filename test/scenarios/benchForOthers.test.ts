import { execFileSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import { expect, it } from 'vitest';
import { socatIsHere } from '../instruments/ptyPair.ts';
import { reelohm, signalGroup, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const isHere = socatIsHere();

/** What a program of somebody else's gets for its messages over TCP. */
function asked(port: string, messages: string): string {
  return execFileSync('socat', ['-t', '3', '-', `tcp:127.0.0.1:${port}`], { input: messages, encoding: 'utf8' });
}

/** What comes back over a serial port that is opened for it. */
async function askedAt(path: string, message: string): Promise<string> {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((thrown) => (thrown ? reject(thrown) : resolve())));
  const answer = new Promise<string>((resolve) => {
    let text = '';
    port.on('data', (chunk: Buffer) => {
      text += chunk.toString();
      if (text.endsWith('\n')) resolve(text.trim());
    });
  });
  port.write(`${message}\n`);
  const said = await answer;
  await new Promise<void>((resolve) => port.close(() => resolve()));
  return said;
}

/** A bench for other programs, and what it says of where it is. */
async function served(...more: string[]): Promise<{ bench: ReturnType<typeof startReelohm>; said: string }> {
  const scenario = join(temporaryFolder(), 'scenario.json');
  writeFileSync(
    scenario,
    JSON.stringify({ seed: 7, lot: { nominalOhms: 4700, shareOpen: 0, shareWrong: 0 }, meter: { pace: 'none' } }),
  );
  const bench = startReelohm(['bench', '--port', '0', '--scenario', scenario, ...more]);
  let said = '';
  bench.stdout.on('data', (chunk: Buffer) => {
    said += chunk.toString();
  });
  await expect.poll(() => said).toContain('Ctrl-C ends it');
  return { bench, said };
}

it.runIf(isHere)('serves other programs over TCP', async () => {
  const { bench, said } = await served();
  const port = /tcp:\/\/127\.0\.0\.1:(\d+)/.exec(said)?.[1] ?? '';
  for (let time = 0; time < 2; time++) {
    const answers = asked(port, '*IDN?\nBENC:PLAC 1\nMEAS:RES?\nBENC:PLAC OPEN\nMEAS:RES?\n').trim().split('\n');
    expect(answers).toHaveLength(3);
    expect(Number(answers[1]) / 4700).toBeCloseTo(1, 1);
    expect(Number(answers[2])).toBe(9.9e37);
  }
  signalGroup(bench, 'SIGINT');
  await expect.poll(() => bench.exitCode).toBe(0);
});

it.runIf(isHere)('serves other programs at a pseudo-terminal, which may be opened again and again', async () => {
  const terminal = join(temporaryFolder(), 'bench');
  const { bench, said } = await served('--terminal', terminal);
  expect(said).toContain(`answers at ${terminal}`);
  const readings: number[] = [];
  for (let time = 0; time < 3; time++) readings.push(Number(await askedAt(terminal, 'BENC:PLAC 1;:MEAS:RES?')));
  // The same piece, apart by noise and by the contact of another placing.
  for (const reading of readings) expect(reading / (readings[0] ?? 0)).toBeCloseTo(1, 4);
  expect((readings[0] ?? 0) / 4700).toBeCloseTo(1, 1);
  signalGroup(bench, 'SIGINT');
  await expect.poll(() => bench.exitCode).toBe(0);
  await expect.poll(() => existsSync(terminal)).toBe(false);
});

it.runIf(isHere)('refuses a terminal whose name is taken, and a scenario that is none', async () => {
  const folder = temporaryFolder();
  const taken = join(folder, 'taken');
  writeFileSync(taken, '');
  const twice = await reelohm(['bench', '--port', '0', '--terminal', taken]);
  expect([twice.status, twice.err]).toEqual([2, expect.stringContaining('[bench-unavailable]')]);
  writeFileSync(taken, '{"seed": "x"}');
  const wrong = await reelohm(['bench', '--port', '0', '--scenario', taken]);
  expect([wrong.status, wrong.err]).toEqual([2, expect.stringContaining('bench.seed')]);
});
