import { extname, join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { asProblem, Problem, problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { type Given, type Made, type PutOut, type TaskName, task } from './tasks.ts';
import type { Said, ToDo } from './thread.ts';

/** Work through so many characters is done before a thread would have begun: some hundredths of a second. */
const DONE_IN_PLACE = 100_000;

/** As source beside this file, as a program of its own beside it when built. */
const THREAD = join(import.meta.dirname, `thread${extname(import.meta.filename)}`);

/** Work that is under way: what ends it, and who hears how far it is. */
export interface Going {
  signal: AbortSignal;
  tell: TellProgress;
}

/**
 * Does a task in a thread of its own, so that whoever asks goes on answering and measuring meanwhile. What is little is done in
 * place.
 * @param characters how many it works through, roughly @param put takes the bytes that the task puts out meanwhile
 * @throws problems of the task; work-stopped, at once, when the signal is given
 */
export async function doAside<N extends TaskName>(
  name: N,
  given: Given<N>,
  { characters, signal, tell, put = keepNothing }: Going & { characters: number; put?: PutOut },
): Promise<Made<N>> {
  if (signal.aborted) throw problem('work-stopped');
  if (characters <= DONE_IN_PLACE) return task(name)(given, tell, put);
  const thread = new Worker(THREAD, { workerData: { name, given } satisfies ToDo<N> });
  try {
    return await new Promise<Made<N>>((resolve, reject) => {
      signal.addEventListener('abort', () => reject(problem('work-stopped')), { once: true });
      thread.on('message', (said: Said<N>) => {
        if ('progress' in said) tell(said.progress);
        else if ('bytes' in said) put(said.bytes);
        else if ('made' in said) resolve(said.made);
        else reject(new Problem(said.problem));
      });
      thread.once('error', (thrown) => reject(asProblem(thrown)));
      thread.once('exit', () => reject(problem('defect', `the thread for ${name} ended without an answer`)));
    });
  } finally {
    void thread.terminate();
  }
}

/** Most tasks put nothing out. */
function keepNothing(): void {
  throw new Error('nobody takes what the task puts out');
}
