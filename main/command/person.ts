import { createInterface, type Interface } from 'node:readline';

/** Nobody changes a piece faster; a second press within this time belongs to the first. */
const TWICE_MILLISECONDS = 300;

/** Whoever stands at the bench: lines from standard input, which is not touched before the first question. */
export class Person {
  readonly #early: string[] = [];
  #reader: Interface | null = null;
  #heard: ((line: string | null) => void) | null = null;
  #gone = false;
  #asked = 0;

  /** Asks and waits for a line; null when there will be no more. */
  answer(question: string): Promise<string | null> {
    process.stderr.write(question);
    this.#asked = performance.now();
    this.#reader ??= this.#listen();
    const early = this.#early.shift();
    if (early !== undefined) return Promise.resolve(early);
    if (this.#gone) return Promise.resolve(null);
    return new Promise((resolve) => {
      this.#heard = resolve;
    });
  }

  /** Ends the conversation; a question that is open is answered with null. */
  leave(): void {
    if (this.#reader) this.#reader.close();
    else this.#gone = true;
  }

  #listen(): Interface {
    const reader = createInterface({ input: process.stdin });
    reader.on('line', (line) => {
      // At a terminal a key pressed before it is asked for, or pressed twice, must not count a piece twice. A script
      // may write ahead.
      if (process.stdin.isTTY && performance.now() - this.#asked < TWICE_MILLISECONDS) return;
      if (!this.#heard && !process.stdin.isTTY) this.#early.push(line);
      this.#tell(line);
    });
    reader.once('close', () => {
      this.#gone = true;
      this.#tell(null);
    });
    return reader;
  }

  #tell(line: string | null): void {
    const heard = this.#heard;
    this.#heard = null;
    heard?.(line);
  }
}
