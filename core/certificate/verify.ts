import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { Disposition } from '../inspection/event.ts';
import { outlook } from '../inspection/run.ts';
import { problem } from '../problem/problem.ts';
import { formatTolerance } from '../window/parseTolerance.ts';
import { cellsOf, cellsOfCsv, csvOf, digestRow } from './csv.ts';
import { COLUMNS } from './format.ts';
import { type Decision, readRun } from './readRun.ts';
import { broken, quoted, RowReader } from './rowReader.ts';
import { type Certified, rowsOf } from './rowsOf.ts';

/** What an intact certificate says. */
export interface Verified {
  run: number;
  lot: string;
  part: string;
  disposition: Disposition;
  /** True for practice on the simulated bench. */
  simulated: boolean;
  /** All readings, those that were made void included. */
  readings: number;
  /** SHA-256 (hex) of the whole file, as the record keeps it and `sha256sum` prints it. */
  sha256: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const DIGEST_LENGTH = digestRow(new Uint8Array()).length;

/**
 * Checks a certificate file: first that no byte was changed since it was written, then that what it says follows from
 * what was measured. For that the run is read back from what was put in and its certificate is written anew: the file
 * holds only if every cell comes out the same.
 * @throws problem certificate-broken, naming the digest or the row
 */
export function verifyCertificate(bytes: Uint8Array): Verified {
  const body = bodyOf(bytes);
  const rows = rowsOfBody(body);
  const { run, about } = readRun(new RowReader(rows));
  const again = rowsOf(run, about).map(cellsOf);
  compare(rows, again);
  mustFollow(run, rows.length);
  // Equal cells can still be quoted otherwise, or hold bytes that are no UTF-8.
  if (!sameBytes(utf8ToBytes(csvOf(again)), body)) {
    throw problem('certificate-broken', 'its form', 'the rows are not written as this format writes them');
  }
  return {
    run: about.run,
    lot: run.lot.number,
    part: run.part.number,
    disposition: run.decided.disposition,
    simulated: run.meter?.identity.simulated ?? false,
    readings: run.readings.size,
    sha256: bytesToHex(sha256(bytes)),
    checked: wordsFor(run),
  };
}

/** The bytes before the digest row, once that row fits them. */
function bodyOf(bytes: Uint8Array): Uint8Array {
  const body = bytes.subarray(0, Math.max(0, bytes.length - DIGEST_LENGTH));
  if (!sameBytes(bytes.subarray(body.length), utf8ToBytes(digestRow(body)))) {
    throw problem('certificate-broken', 'the digest', 'the file is not, byte for byte, the one that was written');
  }
  return body;
}

function rowsOfBody(body: Uint8Array): string[][] {
  let rows: string[][];
  try {
    rows = cellsOfCsv(body);
  } catch (thrown) {
    const why = thrown instanceof Error ? thrown.message : String(thrown);
    throw problem('certificate-broken', 'its form', `it is no CSV of equal rows: ${why}`);
  }
  if (rows[0]?.join() !== COLUMNS.join()) throw broken(1, `the columns are not ${COLUMNS.join()}`);
  return rows;
}

/** Compares the file's rows (header first) with the rows that its own inputs give. */
function compare(rows: readonly string[][], again: readonly string[][]): void {
  for (const [index, cells] of again.entries()) {
    const there = rows[index + 1] ?? [];
    const place = cells.findIndex((cell, column) => cell !== there[column]);
    if (place < 0) continue;
    const [said, given] = [quoted(there[place] ?? ''), quoted(cells[place] ?? '')];
    throw broken(index + 2, `${COLUMNS[place]} is ${said}, but the other rows give ${given}`);
  }
  if (rows.length > again.length + 1) throw broken(again.length + 2, 'this row is too many');
}

/** Refuses a disposition that the plan and the tally do not give. Its three rows end the file's `length` rows. */
function mustFollow({ decided, tally, plan }: Certified & { decided: Decision }, length: number): void {
  const { disposition, reason } = decided;
  if (disposition === 'on-hold') {
    if (reason === '') throw broken(length, 'a lot on hold must have a reason');
    return;
  }
  const planned = { accept: 'accepted', 'not-accept': 'not-accepted', undecided: null }[outlook({ tally, plan })];
  if (disposition === planned) return;
  const counts = `${tally.nonconforming} nonconforming in ${tally.counted} of ${plan.sampleSize} pieces`;
  throw broken(length - 2, `${disposition} against the plan: ${counts}, Ac ${plan.accept}, Re ${plan.reject}`);
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index]);
}

function wordsFor(run: Certified & { decided: Decision }): string[] {
  const { window, part, plan, tally, decided } = run;
  const from =
    part.tolerance.kind === 'limits' ? 'limits as given' : `${part.nominal} Ω ${formatTolerance(part.tolerance)}`;
  const chosen =
    plan.choice.kind === 'aql'
      ? `a lot of ${run.lot.size}, level ${plan.choice.level}, AQL ${plan.choice.aql} (MIL-STD-105E, Table II-A)`
      : `agreed numbers for a lot of ${run.lot.size}`;
  return [
    'The SHA-256 in the last row fits every byte before it (it shows changes, not who wrote the file)',
    `Window ${window.lower ?? 'open'} to ${window.upper ?? 'open'} Ω, from ${from}`,
    `Sample ${plan.sampleSize}, Ac ${plan.accept}, Re ${plan.reject}, from ${chosen}`,
    `${run.readings.size} readings: value and verdict of each from the meter's text, ${tally.voided} of them void`,
    `${tally.counted} counted, ${tally.nonconforming} nonconforming; lowest, highest and mean`,
    `Disposition ${decided.disposition} against the plan's numbers`,
  ];
}
