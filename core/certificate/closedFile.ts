import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { Problem } from '../problem/problem.ts';
import { BLOCK, blocksOf, type FileBytes } from './fileBytes.ts';
import { type Form, lineOf, SEPARATORS } from './form.ts';
import { type Sha256, sha256Anywhere } from './sha256.ts';
import { type Signer, signedMessage } from './signature.ts';
import { textOf } from './utf8.ts';

/**
 * A kind of CSV file that is closed by two rows: the digest of every byte before it, and the signature of that. Certificates,
 * studies, comparisons. All of them are verified alike (see verifyClosed.ts): no byte was changed, writing the file anew from
 * what was put in gives the same rows, and the key that is named in it signed it.
 */
export interface ClosedFormat {
  /** What the file calls its format; it is signed too. */
  name: string;
  /** Formats of earlier versions, which are no longer verified. */
  earlier: readonly EarlierFormat[];
  columns: readonly string[];
  /** Of each column, whether it holds numbers. */
  isNumeric: readonly boolean[];
  /** What all else in the file follows from, in words that go before "give". */
  inputs: string;
  /** The problem of a file that does not hold: where, and why. */
  broken(where: string, why: string): Problem;
}

/** A format that an earlier version wrote: what it is called, how many columns it has, and what it lacks. */
export interface EarlierFormat {
  name: string;
  columns: number;
  is: string;
}

const DIGEST_BEGINS = ['digest', 'sha-256'];
const SIGNATURE_BEGINS = ['signature', 'ed25519'];
const DIGEST_CHARACTERS = 64;
const SIGNATURE_CHARACTERS = 128;

/** The text of a file up to its digest row, which ends it, and the digest. */
export interface Unsigned {
  text: string;
  digest: string;
}

/** A file as a text that is to be signed. @param rows without header, as cells */
export function unsigned(rows: Iterable<readonly string[]>, format: ClosedFormat): Unsigned {
  let text = '';
  const digest = writeUnsigned(rows, format, 'dot', (chunk) => {
    text += textOf(chunk);
  });
  return { text, digest };
}

/**
 * Writes a file up to and with its digest row, chunk by chunk, each a whole number of lines. What is digested is always the form
 * `dot`. Returns the digest.
 * @param rows without header, as cells @param put takes each chunk; it is its own from then on
 * @param hash just begun
 */
export function writeUnsigned(
  rows: Iterable<readonly string[]>,
  format: ClosedFormat,
  form: Form,
  put: (chunk: Uint8Array) => void,
  hash: Sha256 = sha256Anywhere(),
): string {
  const { isNumeric } = format;
  let lines: string[] = [];
  let digested: string[] = [];
  let length = 0;
  const flush = () => {
    const chunk = utf8ToBytes(lines.join(''));
    hash.update(form === 'dot' ? chunk : utf8ToBytes(digested.join('')));
    put(chunk);
    lines = [];
    digested = [];
    length = 0;
  };
  const add = (cells: readonly string[]) => {
    const line = lineOf(cells, form, isNumeric);
    lines.push(line);
    if (form !== 'dot') digested.push(lineOf(cells, 'dot', isNumeric));
    length += line.length;
    if (length >= BLOCK) flush();
  };
  add(format.columns);
  for (const cells of rows) add(cells);
  flush();
  const digest = hash.hex();
  put(utf8ToBytes(digestRow(digest, format, form)));
  return digest;
}

/** The last row: the signature of the format's name and the digest. */
export function signatureRow(
  digest: string,
  format: Pick<ClosedFormat, 'name' | 'columns'>,
  form: Form,
  signer: Signer,
): string {
  return lastRow(SIGNATURE_BEGINS, bytesToHex(signer.sign(signedMessage(format.name, digest))), format, form);
}

/** The whole text of a file, signed. */
export function signed(
  { text, digest }: Unsigned,
  format: Pick<ClosedFormat, 'name' | 'columns'>,
  signer: Signer,
): string {
  return text + signatureRow(digest, format, 'dot', signer);
}

function digestRow(digest: string, format: Pick<ClosedFormat, 'columns'>, form: Form): string {
  return lastRow(DIGEST_BEGINS, digest, format, form);
}

function lastRow(
  begins: readonly string[],
  value: string,
  { columns }: Pick<ClosedFormat, 'columns'>,
  form: Form,
): string {
  const separator = SEPARATORS[form];
  return `${[...begins, value].join(separator)}${separator.repeat(columns.length - begins.length - 1)}\r\n`;
}

/** The two rows that close a file, as they stand there. */
export interface Closing {
  /** The bytes before the digest row. */
  bodySize: number;
  /** What the digest row says. */
  digest: string;
  /** In hex; null where there is none. */
  signature: string | null;
}

/** The closing rows of a file of these columns; null where no digest row ends it, nor one that a signature stands behind. */
export function closingOf(file: FileBytes, format: Pick<ClosedFormat, 'columns'>, form: Form): Closing | null {
  const valueIn = (begins: readonly string[], characters: number, end: number): string | null => {
    const size = lastRow(begins, '0'.repeat(characters), format, form).length;
    if (end < size) return null;
    const row = textOf(file.slice(end - size, end));
    const value = row.slice(begins.join().length + 1).slice(0, characters);
    return /^[0-9a-f]+$/.test(value) && row === lastRow(begins, value, format, form) ? value : null;
  };
  const signature = valueIn(SIGNATURE_BEGINS, SIGNATURE_CHARACTERS, file.size);
  const signatureSize = signature === null ? 0 : lastRow(SIGNATURE_BEGINS, signature, format, form).length;
  const digest = valueIn(DIGEST_BEGINS, DIGEST_CHARACTERS, file.size - signatureSize);
  if (digest === null) return null;
  return { bodySize: file.size - signatureSize - digestRow(digest, format, form).length, digest, signature };
}

const LF = 10;

/**
 * SHA-256 in hex of a whole file, as the record keeps it and `sha256sum` prints it, and of the bytes before a place in it; how many
 * lines there are before that.
 */
export function digestsOf(file: FileBytes, before: number): { whole: string; body: string; lines: number } {
  const hash = (file.sha256 ?? sha256Anywhere)();
  let lines = 0;
  for (const block of blocksOf(file, 0, before)) {
    hash.update(block);
    for (let at = block.indexOf(LF); at >= 0; at = block.indexOf(LF, at + 1)) lines++;
  }
  const body = hash.copy().hex();
  for (const block of blocksOf(file, before, file.size)) hash.update(block);
  return { whole: hash.hex(), body, lines };
}

/** SHA-256 in hex of a file's rows as the form `dot` writes them. @param rows as that form has their cells, header included */
export function digestOfRows(
  rows: Iterable<readonly string[]>,
  { isNumeric }: ClosedFormat,
  hash: Sha256 = sha256Anywhere(),
): string {
  let text = '';
  for (const cells of rows) {
    text += lineOf(cells, 'dot', isNumeric);
    if (text.length < BLOCK) continue;
    hash.update(utf8ToBytes(text));
    text = '';
  }
  hash.update(utf8ToBytes(text));
  return hash.hex();
}

/** A cell's content as a message quotes it: not all of an endless one. */
export function quoted(content: string): string {
  return content.length > 80 ? `"${content.slice(0, 80)}…"` : `"${content}"`;
}
