import { utf8ToBytes } from '@noble/hashes/utils.js';
import { Problem, wordsOf } from '../problem/problem.ts';
import { BETWEEN_TELLINGS, TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { BrokenFile, brokenRow } from './brokenFile.ts';
import { type ClosedFormat, closingOf, digestOfRows, digestsOf, quoted } from './closedFile.ts';
import { csvRows } from './csvRows.ts';
import { BLOCK, type FileBytes, inMemory } from './fileBytes.ts';
import { dotCells, type Form, lineOf, SEPARATORS } from './form.ts';
import { fingerprintOf, isSignedBy, signedMessage } from './signature.ts';
import { textOf } from './utf8.ts';

/** What is checked of every closed file, in words for the person. */
export const DIGEST_FITS = 'The SHA-256 in the last row but one fits every byte before it';

/** Words for the key that signed a file. */
export function signatureWords(publicKey: string): string {
  return `The Ed25519 signature in the last row is of that digest, by the key with the fingerprint ${fingerprintOf(publicKey)}`;
}

/** What a file comes to when it is read back. */
export interface ReadBack<T> {
  found: T;
  /** The key that the file says it is signed by, 64 characters of hex. */
  publicKey: string;
  /** The rows without header, as cells, that what was put in gives. */
  rows: Iterable<readonly string[]>;
  /** Checks what cannot be seen from rows. @throws the format's problem */
  follow?: () => void;
}

/** A file that holds. */
export interface Intact<T> {
  found: T;
  publicKey: string;
  form: Form;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
}

/**
 * Checks a closed file: that no byte was changed since it was written, that what it says follows from what was put in, and that the
 * key it names has signed it. It is read row by row, then its rows are made anew one by one and compared byte by byte; no more
 * of it is held at a time than a block.
 * @param readBack reads the run, or whatever the file is of, from its rows (without header, as the form `dot` has their cells)
 * @throws the format's problem: of a file that was changed where that shows first, else the digest or the signature
 */
export function verifyClosed<T>(
  bytes: FileBytes | Uint8Array,
  format: ClosedFormat,
  readBack: (rows: Iterable<readonly string[]>) => ReadBack<T>,
  tell: TellProgress = TELL_NOBODY,
): Intact<T> {
  const file = bytes instanceof Uint8Array ? inMemory(bytes) : bytes;
  mustNotBeEarlier(file, format);
  const form = formOf(file, format);
  const closing = closingOf(file, format, form);
  if (closing === null) {
    throw format.broken(
      'the digest',
      'the file does not end with the digest and the signature that were written behind it',
    );
  }
  const { bodySize: to, digest, signature } = closing;
  const { whole, body, lines } = digestsOf(file, to);
  const isWhole = (form === 'dot' ? body : digestOfComma(file, to, format)) === digest;
  const { found, publicKey } = readingOf(isWhole, format, () => {
    const read = readBack(rowsOf(file, to, form, format, lines, tell));
    mustComeOutTheSame(file, to, form, read.rows, format);
    read.follow?.();
    return read;
  });
  if (!isWhole) {
    throw format.broken(
      'the digest',
      `${CHANGED}. All that is worked out still follows from the rest, so something that is put in was changed: a name, a reason, a time, or what a meter showed`,
    );
  }
  if (signature === null) throw format.broken('the signature', 'the file ends with its digest, and nobody signed that');
  if (!isSignedBy(publicKey, signedMessage(format.name, digest), signature)) {
    throw format.broken(
      'the signature',
      `it was not made by the key that the file names (${fingerprintOf(publicKey)}) for this digest: the file was changed and closed anew by somebody who has not that key`,
    );
  }
  return { found, publicKey, form, sha256: whole };
}

const CHANGED = 'the file is not, byte for byte, the one that was written';

/** Does what reads the file; of one whose digest does not fit the digest is named, and where the change shows. */
function readingOf<T>(isWhole: boolean, format: ClosedFormat, read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    // That the file cannot be read is no fault of what is in it.
    const isFault = !(thrown instanceof Problem) || thrown instanceof BrokenFile;
    if (isWhole || !isFault) throw thrown;
    if (!(thrown instanceof BrokenFile)) throw format.broken('the digest', CHANGED);
    throw new BrokenFile(format.broken('the digest', `${CHANGED}. ${thrown.what}`), thrown.row, thrown.column);
  }
}

/** So much of a file holds the names of its columns and its first row. */
const BEGINNING = 2000;

/** An intact file of an earlier format is told as that, not as a changed one. */
function mustNotBeEarlier(file: FileBytes, { earlier, broken }: ClosedFormat): void {
  const [, second = ''] = textOf(file.slice(0, Math.min(file.size, BEGINNING))).split('\r\n');
  const name = second.split(',')[2];
  const found = earlier.find((one) => one.name === name);
  if (!found) return;
  const closing = closingOf(file, { columns: Array<string>(found.columns).fill('') }, 'dot');
  if (closing === null || digestsOf(file, closing.bodySize).body !== closing.digest) return;
  throw brokenRow(broken, 2, `it is of ${found.is}, and was written by an earlier version of Reelohm`);
}

/** Which form a file is written in, by what parts the names of its columns. */
function formOf(file: FileBytes, { columns, isNumeric }: ClosedFormat): Form {
  if (!isNumeric.includes(true)) return 'dot';
  const [first = '', second = ''] = columns;
  const begins = textOf(file.slice(0, Math.min(file.size, first.length + second.length + 1)));
  return begins === `${first}${SEPARATORS.comma}${second}` ? 'comma' : 'dot';
}

function digestOfComma(file: FileBytes, to: number, format: ClosedFormat): string | null {
  try {
    return digestOfRows(allRows(file, 0, to, 'comma', format), format, file.sha256?.());
  } catch (thrown) {
    // What has no rows is said when they are read.
    if (thrown instanceof BrokenFile) return null;
    throw thrown;
  }
}

/** All rows without header. @throws the format's problem where they are no CSV of these columns */
function* rowsOf(
  file: FileBytes,
  to: number,
  form: Form,
  format: ClosedFormat,
  of: number,
  tell: TellProgress,
): Generator<readonly string[]> {
  let done = -1;
  for (const cells of allRows(file, 0, to, form, format)) {
    done++;
    if (done > 0) yield cells;
    else if (cells.join() !== format.columns.join()) {
      throw brokenRow(format.broken, 1, `the columns are not ${format.columns.join()}`);
    }
    if (done % BETWEEN_TELLINGS === 0) tell({ step: 'rows-read', done, of });
  }
}

/** Rows from a place where one begins, as the form `dot` has their cells. @throws the format's problem */
function* allRows(
  file: FileBytes,
  from: number,
  to: number,
  form: Form,
  { columns, isNumeric, broken }: ClosedFormat,
  first = 1,
): Generator<readonly string[]> {
  let row = first;
  const itsForm = (why: string) => new BrokenFile(broken('its form', `it is no CSV of equal rows: ${why}`), row);
  const rows = csvRows(file, from, to, SEPARATORS[form]);
  for (;;) {
    let next: IteratorResult<string[]>;
    try {
      next = rows.next();
    } catch (thrown) {
      if (thrown instanceof Problem) throw thrown;
      throw itsForm(wordsOf(thrown));
    }
    if (next.done) return;
    const { length } = next.value;
    if (length !== columns.length) throw itsForm(`row ${row} has ${length} cells instead of ${columns.length}`);
    yield dotCells(next.value, form, isNumeric);
    row++;
  }
}

/** Rows made anew that are compared in one go, where in the file they must stand, and the number of the first. */
interface Stretch {
  from: number;
  first: number;
  rows: (readonly string[])[];
}

/** Compares the file, byte by byte, with the rows that its own inputs give. @throws the format's problem, naming the first difference */
function mustComeOutTheSame(
  file: FileBytes,
  to: number,
  form: Form,
  again: Iterable<readonly string[]>,
  format: ClosedFormat,
): void {
  let lines: string[] = [];
  let length = 0;
  let stretch: Stretch = { from: 0, first: 1, rows: [] };
  const compare = () => {
    const text = lines.join('');
    const upTo = stretch.from + bytesIn(text);
    if (upTo > to || !isWritten(file.slice(stretch.from, upTo), text))
      throw difference(file, to, form, stretch, format);
    stretch = { from: upTo, first: stretch.first + stretch.rows.length, rows: [] };
    lines = [];
    length = 0;
  };
  const add = (cells: readonly string[]) => {
    const line = lineOf(cells, form, format.isNumeric);
    lines.push(line);
    stretch.rows.push(cells);
    length += line.length;
    if (length >= BLOCK) compare();
  };
  add(format.columns);
  for (const cells of again) add(cells);
  compare();
  if (stretch.from < to) throw brokenRow(format.broken, stretch.first, 'this row is too many');
}

/** What is wrong with a stretch of a file that is not as it would be written. */
function difference(
  file: FileBytes,
  to: number,
  form: Form,
  { from, first, rows }: Stretch,
  format: ClosedFormat,
): BrokenFile {
  const { columns, inputs, broken } = format;
  const there = allRows(file, from, to, form, format, first);
  for (const [index, given] of rows.entries()) {
    const said = there.next().value ?? [];
    const place = given.findIndex((cell, column) => cell !== said[column]);
    if (place < 0) continue;
    const [is, wanted] = [quoted(said[place] ?? ''), quoted(given[place] ?? '')];
    const column = columns[place] ?? '';
    return brokenRow(broken, first + index, `${column} is ${is}, but ${inputs} give ${wanted}`, column);
  }
  // Equal cells can still be quoted otherwise, or hold bytes that are no UTF-8.
  return new BrokenFile(broken('its form', 'the rows are not written as this format writes them'), null);
}

const NO_UTF_8 = '\u{FFFD}';
const BEYOND_ASCII = /[^\0-\x7f]/;

function bytesIn(text: string): number {
  return BEYOND_ASCII.test(text) ? utf8ToBytes(text).length : text.length;
}

/** Whether bytes are those of a text. Texts are compared many times quicker; only where one could hide other bytes these are. */
function isWritten(there: Uint8Array, text: string): boolean {
  if (textOf(there) !== text) return false;
  return !text.includes(NO_UTF_8) || utf8ToBytes(text).every((byte, place) => byte === there[place]);
}
