import { ReadlineParser } from '@serialport/parser-readline';
import { problem } from '../../core/problem/problem.ts';
import type { Connection } from './connection.ts';
import { ENDS } from './lineSettings.ts';

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
const CARRIAGE_RETURN = 0x0d;

/** One line that waits to be sent, and who is told when the operating system has it. */
interface Outgoing {
  bytes: string;
  done?: ((failure?: Error | null) => void) | undefined;
}

/** Lines of text over one connection, ended as its settings say. */
export class Lines {
  readonly #connection: Connection;
  readonly #handlers: LineHandlers;
  /** What the parser takes for the end of an answer. Where any end will do, CR is made LF first; CR LF ends with LF. */
  readonly #end: '\n' | '\r';
  readonly #delayMilliseconds: number;
  #parser: ReadlineParser;
  #unfinishedBytes = 0;
  #skipping = false;
  readonly #outgoing: Outgoing[] = [];
  #sending = false;
  /** Who waits until what they sent is written. */
  readonly #unwritten = new Set<(failure: Error) => void>();
  #over = false;
  #closed: Promise<void> | null = null;

  /** @param delayMilliseconds least time from one line to the next, where that is more than the line's settings say */
  constructor(connection: Connection, handlers: LineHandlers, delayMilliseconds = 0) {
    this.#connection = connection;
    this.#handlers = handlers;
    this.#end = connection.line.in === 'cr' ? '\r' : '\n';
    this.#delayMilliseconds = Math.max(delayMilliseconds, connection.line.delayMilliseconds);
    this.#parser = this.#freshParser();
    const { duplex } = connection;
    duplex.on('data', (chunk: Buffer) => this.#take(chunk));
    duplex.on('error', (failure: Error) => this.#lose(failure.message));
    duplex.on('end', () => this.#lose('the other side ended it'));
    duplex.on('close', (failure?: Error) => this.#lose(failure instanceof Error ? failure.message : 'it was closed'));
  }

  /** The longest that a line waits before it is sent, for the lines before it, in milliseconds. */
  get delayMilliseconds(): number {
    return this.#delayMilliseconds;
  }

  /** Sends a line without waiting; a failure shows as `lost`. */
  send(text: string): void {
    this.#put({ bytes: text + ENDS[this.#connection.line.out] });
  }

  /**
   * Sends a line and resolves when the operating system has taken it, which is not yet delivery.
   * @throws {Problem} meter-lost; meter-silent if a meter that holds the line by flow control takes nothing for 2 s
   */
  write(text: string): Promise<void> {
    if (this.#over) return Promise.reject(problem('meter-lost', 'it has ended'));
    const milliseconds = WRITE_MILLISECONDS + this.#delayMilliseconds;
    return new Promise((resolve, reject) => {
      const deadline = setTimeout(() => reject(problem('meter-silent', text, milliseconds)), milliseconds);
      const done = (failure?: Error | null) => {
        clearTimeout(deadline);
        this.#unwritten.delete(done);
        if (failure) reject(problem('meter-lost', failure.message));
        else resolve();
      };
      this.#unwritten.add(done);
      this.#put({ bytes: text + ENDS[this.#connection.line.out], done });
    });
  }

  /** Closes the connection. Resolves within a second even if the operating system doesn't let go of the port. */
  close(): Promise<void> {
    this.#over = true;
    // Not every stream says so of what it has not written when it is destroyed.
    for (const done of this.#unwritten) done(new Error('it was closed here'));
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

  #put(line: Outgoing): void {
    // Most lines have nothing to wait for.
    if (this.#delayMilliseconds === 0 && !this.#connection.mayBeSent) {
      this.#connection.duplex.write(line.bytes, 'latin1', line.done);
      return;
    }
    this.#outgoing.push(line);
    if (!this.#sending) void this.#sendAll();
  }

  async #sendAll(): Promise<void> {
    this.#sending = true;
    for (let line = this.#outgoing.shift(); line; line = this.#outgoing.shift()) {
      await this.#connection.mayBeSent?.();
      if (this.#connection.duplex.destroyed) line.done?.(new Error('it has ended'));
      else this.#connection.duplex.write(line.bytes, 'latin1', line.done);
      await new Promise((passed) => setTimeout(passed, this.#delayMilliseconds));
    }
    this.#sending = false;
  }

  // The parser keeps half a line for ever and glues it to what a later connection sends, and it hands out the
  // unfinished rest when it is ended: so it is new for each connection (and after garbage) and is never ended.
  #freshParser(): ReadlineParser {
    // In object mode two lines that wait in the stream's buffer stay two lines.
    const parser = new ReadlineParser({ delimiter: this.#end, encoding: 'latin1', readableObjectMode: true });
    parser.on('data', (text: string) => {
      if (this.#over) return;
      if (text.length > LONGEST_LINE_BYTES) return this.#handlers.overlong(text.length);
      const line = this.#end === '\r' ? text.replace(/^\n/, '') : text.replace(/\r$/, '');
      if (line !== '') this.#handlers.line(line);
    });
    return parser;
  }

  // The parser has no bound of its own, so bytes are counted before it sees them.
  #take(chunk: Buffer): void {
    if (this.#over) return;
    let bytes = this.#connection.line.in === 'any' ? withLineFeeds(chunk) : chunk;
    const last = this.#end.charCodeAt(0);
    if (this.#skipping) {
      const end = bytes.indexOf(last);
      if (end < 0) return;
      this.#skipping = false;
      bytes = bytes.subarray(end + 1);
    }
    const lastEnd = bytes.lastIndexOf(last);
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

/** The bytes with every CR made LF; empty lines, which that makes of CR LF, are dropped later. */
function withLineFeeds(chunk: Buffer): Buffer {
  let at = chunk.indexOf(CARRIAGE_RETURN);
  if (at < 0) return chunk;
  const bytes = Buffer.from(chunk);
  for (; at >= 0; at = bytes.indexOf(CARRIAGE_RETURN, at + 1)) bytes[at] = LINE_FEED;
  return bytes;
}
