import { createInterface } from 'node:readline';

/** Whoever stands at the bench: lines from standard input. */
export class Person {
  #lines: AsyncIterator<string> | null = null;
  #reader: ReturnType<typeof createInterface> | null = null;

  /** Asks and waits for a line; null when there will be no more. */
  async answer(question: string): Promise<string | null> {
    process.stderr.write(question);
    if (!this.#lines) {
      this.#reader = createInterface({ input: process.stdin });
      this.#lines = this.#reader[Symbol.asyncIterator]();
    }
    const { done, value } = await this.#lines.next();
    return done ? null : value;
  }

  leave(): void {
    this.#reader?.close();
  }
}
