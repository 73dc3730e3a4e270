import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import { onTestFinished } from 'vitest';

const ROOT = join(import.meta.dirname, '..');
const START = join(ROOT, 'main/start.js');

export type Child = ChildProcessByStdio<Writable, Readable, Readable>;

/** Starts a Node program in a process of its own that does not outlive the test. */
export function startNode(args: string[], env: NodeJS.ProcessEnv = {}): Child {
  return startProgram(process.execPath, args, env);
}

/** Starts any program from the project's folder, as the first of a process group, as a terminal does. */
export function startProgram(program: string, args: string[], env: NodeJS.ProcessEnv = {}): Child {
  const child = spawn(program, args, {
    cwd: ROOT,
    detached: true,
    stdio: ['pipe', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  });
  onTestFinished(async () => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    signalGroup(child, 'SIGKILL');
    await once(child, 'exit');
  });
  return child;
}

/** Signals a program and all it has started, as a terminal does. */
export function signalGroup(child: Child, signal: NodeJS.Signals): void {
  if (child.pid !== undefined) process.kill(-child.pid, signal);
}

/** Starts the built program with a command, as a user does. */
export function startReelohm(args: string[], env: NodeJS.ProcessEnv = {}): Child {
  return startNode([START, ...args], env);
}

/** Runs the built program to its end. */
export async function reelohm(
  args: string[],
  { input = '', env = {} }: { input?: string; env?: NodeJS.ProcessEnv } = {},
): Promise<{ status: number | null; out: string; err: string }> {
  const child = startReelohm(args, env);
  child.stdin.end(input);
  const [out, err, [status]] = await Promise.all([textOf(child.stdout), textOf(child.stderr), once(child, 'exit')]);
  return { status: status as number | null, out, err };
}

async function textOf(stream: Readable): Promise<string> {
  let text = '';
  stream.setEncoding('utf8');
  for await (const chunk of stream) text += chunk;
  return text;
}

/** Waits for the first line of a stream that matches, and returns the match; fails with what was said when it ends before. */
export async function lineFrom(stream: Readable, pattern: RegExp): Promise<RegExpExecArray> {
  const said: string[] = [];
  for await (const line of createInterface({ input: stream })) {
    said.push(line);
    const match = pattern.exec(line);
    if (match) {
      stream.resume();
      return match;
    }
  }
  throw new Error(`no line matched ${pattern} in:\n${said.join('\n')}`);
}
