import { parentPort, workerData } from 'node:worker_threads';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import type { Progress } from '../../core/progress/progress.ts';
import { type Given, type Made, type TaskName, task } from './tasks.ts';

/** What the thread is started with. */
export type ToDo<N extends TaskName = TaskName> = { name: N; given: Given<N> };

/** What it says: how far it is, bytes as they come, and at its end what was made, or why nothing was. */
export type Said<N extends TaskName = TaskName> =
  | { progress: Progress }
  | { bytes: Uint8Array }
  | { made: Made<N> }
  | { problem: ProblemText };

/** Nobody looks more often. */
const BETWEEN_MILLISECONDS = 100;

let told = performance.now();

function tell(progress: Progress): void {
  if (performance.now() - told < BETWEEN_MILLISECONDS) return;
  told = performance.now();
  say({ progress });
}

function say(said: Said): void {
  parentPort?.postMessage(said, 'bytes' in said ? [said.bytes.buffer as ArrayBuffer] : []);
}

const { name, given } = workerData as ToDo;
try {
  say({ made: await task(name)(given, tell, (bytes) => say({ bytes })) });
} catch (thrown) {
  say({ problem: asProblem(thrown).toJSON() });
}
