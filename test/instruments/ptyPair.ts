import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BenchScenarioInput } from '../../instruments/bench/scenario.ts';

/** Whether socat is here to make pseudo-terminals. Where the build machine lacks it, that is a failure. */
export function socatIsHere(): boolean {
  const here = spawnSync('socat', ['-V']).status === 0;
  if (!here && process.env.CI)
    throw new Error('socat is missing: install it, the serial path cannot be checked without');
  if (!here) console.log('SKIPPED: the serial path over a pseudo-terminal, because socat is not installed');
  return here;
}

export interface PtyPair {
  /** The station's end. */
  near: string;
  /** The meter's end. */
  far: string;
  /** Both ends disappear, as when a USB adapter is pulled out. */
  unplug(): Promise<void>;
  /** Both ends are back under the same names. */
  plugIn(): Promise<void>;
  stop(): Promise<void>;
}

/** A pair of pseudo-terminals joined by socat, as a serial cable joins two ports. */
export async function openPtyPair(): Promise<PtyPair> {
  const folder = await mkdtemp(join(tmpdir(), 'reelohm-pty-'));
  const near = join(folder, 'near');
  const far = join(folder, 'far');
  const end = (path: string) => `pty,raw,echo=0,link=${path}`;
  let socat: ChildProcess | null = null;
  const plugIn = async () => {
    socat = spawn('socat', ['-d', '-d', end(near), end(far)], { stdio: ['ignore', 'ignore', 'pipe'] });
    await saysOn(socat, 'stderr', 'starting data transfer loop');
    if (!existsSync(near) || !existsSync(far)) throw new Error('socat made no pseudo-terminals');
  };
  const unplug = async () => {
    if (socat) await stop(socat);
  };
  await plugIn();
  return {
    near,
    far,
    unplug,
    plugIn,
    stop: async () => {
      await unplug();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** A pseudo-terminal whose other end is whatever answers at a TCP port, as a serial adapter with a meter behind it. */
export async function openPtyTo(tcpPort: number): Promise<{ near: string; stop(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'reelohm-pty-'));
  const near = join(folder, 'near');
  const ends = [`pty,raw,echo=0,link=${near}`, `tcp:127.0.0.1:${tcpPort}`];
  const socat = spawn('socat', ['-d', '-d', ...ends], { stdio: ['ignore', 'ignore', 'pipe'] });
  await saysOn(socat, 'stderr', 'starting data transfer loop');
  return {
    near,
    stop: async () => {
      await stop(socat);
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** A bench in a process of its own behind the far end. */
export async function startPtyBench(pair: PtyPair, scenario: BenchScenarioInput): Promise<{ stop(): Promise<void> }> {
  const script = join(import.meta.dirname, 'ptyBench.ts');
  const bench = spawn(process.execPath, [script, pair.far, JSON.stringify(scenario)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await saysOn(bench, 'stdout', 'ready');
  return { stop: () => stop(bench) };
}

async function saysOn(child: ChildProcess, stream: 'stdout' | 'stderr', words: string): Promise<void> {
  let said = '';
  await new Promise<void>((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (status) => reject(new Error(`ended with ${status} before it said "${words}": ${said}`)));
    child[stream]?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      if (said.includes(words)) resolve();
    });
  });
}

async function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const exited = once(child, 'exit');
  child.kill();
  await exited;
}
