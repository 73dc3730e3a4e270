/** What begins a reading: nothing but its being asked for, or the meter's own trigger input. */
export type TriggerSource = 'IMM' | 'EXT';

/** The trigger of the meter (SCPI-1999 volume 2, 24): where a reading begins, and who waits for its end. */
export class Trigger {
  source: TriggerSource = 'IMM';
  #waiting: { done: Promise<void>; end: () => void } | null = null;
  /** *OPC was told while a reading waited (IEEE 488.2 10.18). */
  #notes: (() => void)[] = [];

  /** Whether a reading waits for the trigger. */
  get isWaiting(): boolean {
    return this.#waiting !== null;
  }

  /** A reading waits from now on. */
  wait(): void {
    if (this.#waiting) return;
    const { promise, resolve } = Promise.withResolvers<void>();
    this.#waiting = { done: promise, end: resolve };
  }

  /** Resolves when no reading waits. */
  async ended(): Promise<void> {
    await this.#waiting?.done;
  }

  /** Calls back when no reading waits; at once where none does. */
  whenEnded(note: () => void): undefined {
    if (this.#waiting) this.#notes.push(note);
    else note();
  }

  /** The reading was taken, or nobody waits for it any more. */
  end(): undefined {
    const waiting = this.#waiting;
    this.#waiting = null;
    for (const note of this.#notes.splice(0)) note();
    waiting?.end();
  }

  /** What was to be noted is not. */
  forget(): void {
    this.#notes = [];
  }

  /** As after power-on. */
  reset(): void {
    this.source = 'IMM';
    this.forget();
    this.end();
  }
}
