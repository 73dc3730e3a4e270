import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { cellsOfCsv, digestRow } from '../certificate/csv.ts';
import { Problem, wordsOf } from '../problem/problem.ts';
import { brokenStudy, readStudy } from './readStudy.ts';
import { type Study, studyOf } from './study.ts';
import { type StudyRecord, studyBody, studyRows } from './studyFile.ts';
import { STUDY_COLUMNS, studyCells } from './studyFormat.ts';

/** What an intact study file says. */
export interface VerifiedStudy {
  record: StudyRecord;
  study: Study;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const DIGEST_LENGTH = digestRow(new Uint8Array(), STUDY_COLUMNS.length).length;

/**
 * Checks the file of a study: first that no byte was changed since it was written, then that every figure and every
 * conclusion follows from the readings in it, all worked out anew.
 * @throws problem study-broken, naming the digest or the first row and column that differ
 */
export function verifyStudy(bytes: Uint8Array): VerifiedStudy {
  const body = bodyOf(bytes);
  const cells = cellsOfBody(body);
  const record = readAgain(() => readStudy(cells));
  const study = readAgain(() => studyOf(record.of, record.window));
  compare(cells, studyRows(record, study).map(studyCells));
  // Equal cells can still be quoted otherwise, or hold bytes that are no UTF-8.
  if (!sameBytes(utf8ToBytes(studyBody(record, study)), body)) {
    throw brokenStudy('its form', 'the rows are not written as this format writes them');
  }
  return { record, study, sha256: bytesToHex(sha256(bytes)), checked: wordsFor(record, study) };
}

function bodyOf(bytes: Uint8Array): Uint8Array {
  const body = bytes.subarray(0, Math.max(0, bytes.length - DIGEST_LENGTH));
  if (!sameBytes(bytes.subarray(body.length), utf8ToBytes(digestRow(body, STUDY_COLUMNS.length)))) {
    throw brokenStudy('the digest', 'the file is not, byte for byte, the one that was written');
  }
  return body;
}

function cellsOfBody(body: Uint8Array): string[][] {
  let cells: string[][];
  try {
    cells = cellsOfCsv(body);
  } catch (thrown) {
    throw brokenStudy('its form', `it is no CSV of equal rows: ${wordsOf(thrown)}`);
  }
  if (cells[0]?.join() !== STUDY_COLUMNS.join())
    throw brokenStudy('row 1', `the columns are not ${STUDY_COLUMNS.join()}`);
  return cells;
}

/** A problem with what the file says is a fault of the file. */
function readAgain<T>(read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    if (thrown instanceof Problem && thrown.code !== 'study-broken') throw brokenStudy('its readings', thrown.what);
    throw thrown;
  }
}

function compare(cells: readonly string[][], again: readonly string[][]): void {
  for (const [index, given] of again.entries()) {
    const said = cells[index + 1] ?? [];
    const place = given.findIndex((cell, column) => cell !== said[column]);
    if (place < 0) continue;
    const why = `${STUDY_COLUMNS[place]} is ${quoted(said[place])}, but the readings give ${quoted(given[place])}`;
    throw brokenStudy(`row ${index + 2}`, why);
  }
  if (cells.length > again.length + 1) throw brokenStudy(`row ${again.length + 2}`, 'this row is too many');
}

function quoted(cell: string | undefined): string {
  const text = cell ?? '';
  return text.length > 80 ? `"${text.slice(0, 80)}…"` : `"${text}"`;
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index]);
}

function wordsFor({ choice, of }: StudyRecord, study: Study): string[] {
  return [
    'The SHA-256 in the last row fits every byte before it (it shows changes, not who wrote the file)',
    choice === null
      ? `${of.readings.length} readings from a file`
      : `${of.readings.length} readings in the order that follows from seed ${choice.seed}`,
    study.design === 'crossed'
      ? `Table of variance, components, interval and categories of ${study.pieces.length} pieces, ${study.operators.length} operators, ${study.repeats} repeats`
      : `Standard deviations of all levels${study.bias === null ? '' : ' and the bias'} of ${study.pieces.length} pieces, ${study.runs} runs, ${study.sessions} sessions, ${study.repeats} repeats`,
    `${study.conclusions.length} conclusions and ${study.notes.length} notes`,
  ];
}
