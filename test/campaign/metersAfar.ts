import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Order, Saying, Standing, Told } from './meterProcess.ts';

/** The runner's hold on one misbehaving meter. */
export interface MeterAfar {
  /** Resolves when the meter has done it. */
  tell(order: Order): Promise<Standing>;
}

/** The runner's hold on a process of misbehaving meters. */
export class MetersAfar {
  readonly #child: ChildProcess;
  readonly #waiting = new Map<number, { resolve: (standing: Standing) => void; reject: (failure: Error) => void }>();
  readonly #unplug = new Map<number, () => void>();
  #orders = 0;
  #meters = 0;
  #ended: Error | null = null;

  constructor() {
    const script = join(import.meta.dirname, 'meterProcess.ts');
    this.#child = spawn(process.execPath, [script], { stdio: ['pipe', 'pipe', 'inherit'] });
    this.#child.once('exit', (status) => this.#end(new Error(`the process of the meters ended with ${status}`)));
    this.#child.once('error', (failure) => this.#end(failure));
    this.#child.stdin?.on('error', () => undefined);
    if (!this.#child.stdout) throw new Error('the meters have no standard output');
    createInterface({ input: this.#child.stdout }).on('line', (text) => this.#hear(JSON.parse(text)));
  }

  /** @param unplug pulls the meter's line out and plugs it in again, while something is on its way */
  meter(unplug: () => void): MeterAfar {
    const meter = this.#meters++;
    this.#unplug.set(meter, unplug);
    return { tell: (order) => this.#tell({ id: this.#orders++, meter, order }) };
  }

  async stop(): Promise<void> {
    if (this.#ended) return;
    const exited = once(this.#child, 'exit');
    this.#child.kill();
    await exited;
  }

  #tell(told: Told): Promise<Standing> {
    if (this.#ended) return Promise.reject(this.#ended);
    return new Promise((resolve, reject) => {
      this.#waiting.set(told.id, { resolve, reject });
      this.#child.stdin?.write(`${JSON.stringify(told)}\n`);
    });
  }

  #hear(saying: Saying): void {
    if ('unplug' in saying) {
      this.#unplug.get(saying.unplug)?.();
      return;
    }
    this.#waiting.get(saying.id)?.resolve(saying.standing);
    this.#waiting.delete(saying.id);
  }

  #end(failure: Error): void {
    this.#ended = failure;
    for (const { reject } of this.#waiting.values()) reject(failure);
    this.#waiting.clear();
  }
}
