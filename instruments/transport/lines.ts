import { ReadlineParser } from '@serialport/parser-readline';
import { problem } from '../../core/problem/problem.ts';
import type { Connection } from './connection.ts';

export interface LineHandlers {
  /** One whole line without its terminator, never empty. */
  line(text: string): void;
  /** More than `LONGEST_LINE_BYTES` came without an end of line. They are dropped up to the next end of line. */
  overlong(bytes: number): void;
  /** The connection ended without our doing. Called once, and never after `close`. */
  lost(why: string): void;
}

export const LONGEST_LINE_BYTES = 4096;
const WRITE_MILLISECONDS = 2000;
const CLOSE_MILLISECONDS = 1000;
const LINE_FEED = 0x0a;

/** Lines of text over one connection, ended by LF or CR LF (IEEE 488.2 7.5 and 8.5: NL; CR counts as white space). */
export class Lines {
  readonly #connection: Connection;
  readonly #handlers: LineHandlers;
  #parser: ReadlineParser;
  #unfinishedBytes = 0;
  #skipping = false;
  #over = false;
  #closed: Promise<void> | null = null;

  constructor(connection: Connection, handlers: LineHandlers) {
    this.#connection = connection;
    this.#handlers = handlers;
    this.#parser = this.#freshParser();
    const { duplex } = connection;
    duplex.on('data', (chunk: Buffer) => this.#take(chunk));
    duplex.on('error', (failure: Error) => this.#lose(failure.message));
    duplex.on('end', () => this.#lose('the other side ended it'));
    duplex.on('close', (failure?: Error) => this.#lose(failure instanceof Error ? failure.message : 'it was closed'));
  }

  /** Sends a line without waiting; a failure shows as `lost`. */
  send(text: string): void {
    this.#connection.duplex.write(`${text}\n`, 'latin1');
  }

  /**
   * Sends a line and resolves when the operating system has taken it, which is not yet delivery.
   * @throws {Problem} meter-lost; meter-silent if a meter that holds the line by flow control takes nothing for 2 s
   */
  write(text: string): Promise<void> {
    if (this.#over) return Promise.reject(problem('meter-lost', 'it has ended'));
    return new Promise((resolve, reject) => {
      const deadline = setTimeout(() => reject(problem('meter-silent', text, WRITE_MILLISECONDS)), WRITE_MILLISECONDS);
      this.#connection.duplex.write(`${text}\n`, 'latin1', (failure) => {
        clearTimeout(deadline);
        if (failure) reject(problem('meter-lost', failure.message));
        else resolve();
      });
    });
  }

  /** Closes the connection. Resolves within a second even if the operating system doesn't let go of the port. */
  close(): Promise<void> {
    this.#over = true;
    this.#closed ??= new Promise((resolve) => {
      const finish = () => {
        clearTimeout(deadline);
        this.#connection.duplex.destroy();
        resolve();
      };
      const deadline = setTimeout(finish, CLOSE_MILLISECONDS);
      this.#connection.close().then(finish, finish);
    });
    return this.#closed;
  }

  // The parser keeps half a line for ever and glues it to what a later connection sends, and it hands out the
  // unfinished rest when it is ended: so it is new for each connection (and after garbage) and is never ended.
  #freshParser(): ReadlineParser {
    // In object mode two lines that wait in the stream's buffer stay two lines.
    const parser = new ReadlineParser({ delimiter: '\n', encoding: 'latin1', readableObjectMode: true });
    parser.on('data', (text: string) => {
      if (this.#over) return;
      if (text.length > LONGEST_LINE_BYTES) return this.#handlers.overlong(text.length);
      const line = text.endsWith('\r') ? text.slice(0, -1) : text;
      if (line !== '') this.#handlers.line(line);
    });
    return parser;
  }

  // The parser has no bound of its own, so bytes are counted before it sees them.
  #take(chunk: Buffer): void {
    if (this.#over) return;
    let bytes = chunk;
    if (this.#skipping) {
      const end = bytes.indexOf(LINE_FEED);
      if (end < 0) return;
      this.#skipping = false;
      bytes = bytes.subarray(end + 1);
    }
    const lastEnd = bytes.lastIndexOf(LINE_FEED);
    const unfinished = lastEnd < 0 ? this.#unfinishedBytes + bytes.length : bytes.length - lastEnd - 1;
    if (unfinished <= LONGEST_LINE_BYTES) {
      this.#unfinishedBytes = unfinished;
      this.#parser.write(bytes);
      return;
    }
    if (lastEnd >= 0) this.#parser.write(bytes.subarray(0, lastEnd + 1));
    this.#parser = this.#freshParser();
    this.#unfinishedBytes = 0;
    this.#skipping = true;
    this.#handlers.overlong(unfinished);
  }

  #lose(why: string): void {
    if (this.#over) return;
    this.#over = true;
    this.#handlers.lost(why);
  }
}
