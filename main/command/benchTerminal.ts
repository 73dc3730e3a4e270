import { spawn } from 'node:child_process';
import { closeSync, constants, existsSync, openSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { problem } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';

const LOOK_MILLISECONDS = 20;
const MOST_MILLISECONDS = 5000;

/**
 * Joins a pseudo-terminal to a TCP port, by socat, so that a program which knows only serial ports finds one: it may be opened and closed
 * again and again, as a serial adapter may.
 * @param link where the terminal is to be found @returns how to end it @throws problem bench-unavailable, as where there is no socat
 */
export async function openBenchTerminal(link: string, host: string, port: number): Promise<() => void> {
  if (existsSync(link)) throw problem('bench-unavailable', link, 'something of that name is there already');
  const ends = [`pty,raw,echo=0,link=${link}`, `tcp:${host}:${port}`];
  const socat = spawn('socat', ends, { stdio: ['ignore', 'ignore', 'pipe'] });
  let failure: string | null = null;
  let said = '';
  socat.stderr.on('data', (chunk: Buffer) => {
    said = (said + chunk.toString()).slice(-1000);
  });
  socat.once('error', (thrown) => {
    failure = codeOf(thrown) === 'ENOENT' ? 'socat, which makes such terminals, is not installed' : thrown.message;
  });
  socat.once('exit', (status) => {
    failure ??= said.trim() || `socat ended with ${status}`;
  });
  const kill = () => void socat.kill();
  process.once('exit', kill);
  for (let waited = 0; !existsSync(link); waited += LOOK_MILLISECONDS) {
    if (failure === null && waited > MOST_MILLISECONDS) failure = 'it did not come up';
    if (failure !== null) {
      kill();
      throw problem('bench-unavailable', link, failure);
    }
    await wait(LOOK_MILLISECONDS);
  }
  // Without anybody who has it open the terminal would end.
  const held = openSync(link, constants.O_RDWR | constants.O_NOCTTY);
  return () => {
    closeSync(held);
    kill();
  };
}
