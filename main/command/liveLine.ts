import type { Progress } from '../../core/progress/progress.ts';
import { progressWords } from '../../core/progress/progressWords.ts';

/** Work that takes no longer says nothing; after that the line changes so often. */
const FIRST_MILLISECONDS = 300;
const BETWEEN_MILLISECONDS = 100;

/**
 * One line on a terminal's standard error that says how far long work is and is written over again and again; where standard error
 * is no terminal it says nothing. Such work ends by Ctrl-C like all else.
 */
export class LiveLine {
  readonly #words: string;
  readonly #terminal: Pick<NodeJS.WriteStream, 'isTTY' | 'write'>;
  #next = performance.now() + FIRST_MILLISECONDS;
  #isShown = false;

  /** @param words what is being done, like `Verifying certificate.csv` */
  constructor(words: string, terminal: Pick<NodeJS.WriteStream, 'isTTY' | 'write'> = process.stderr) {
    this.#words = words;
    this.#terminal = terminal;
  }

  readonly tell = (progress: Progress): void => {
    if (!this.#terminal.isTTY || performance.now() < this.#next) return;
    this.#next = performance.now() + BETWEEN_MILLISECONDS;
    this.#isShown = true;
    this.#terminal.write(`\r\u001b[K${this.#words}: ${progressWords(progress)} (Ctrl-C stops) `);
  };

  /** Takes the line away. */
  end(): void {
    if (this.#isShown) this.#terminal.write('\r\u001b[K');
    this.#isShown = false;
  }
}
