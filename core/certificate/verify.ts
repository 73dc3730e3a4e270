import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { decide } from '../inspection/decide.ts';
import type { Disposition } from '../inspection/event.ts';
import type { Run } from '../inspection/run.ts';
import { Problem, problem } from '../problem/problem.ts';
import { formatTolerance } from '../window/parseTolerance.ts';
import { cellsOf, cellsOfCsv, csvOf, digestRow } from './csv.ts';
import { COLUMNS } from './format.ts';
import { type Decision, readRun } from './readRun.ts';
import { broken, quoted, RowReader } from './rowReader.ts';
import { calibrationWords, checksDone, checksThat, rowsOf } from './rowsOf.ts';

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
  const { run: undecided, decided, about } = readRun(new RowReader(rows));
  const run = { ...undecided, decided };
  const again = rowsOf(run, about).map(cellsOf);
  compare(rows, again);
  mustFollow(undecided, decided, rows.length);
  // Equal cells can still be quoted otherwise, or hold bytes that are no UTF-8.
  if (!sameBytes(utf8ToBytes(csvOf(again)), body)) {
    throw problem('certificate-broken', 'its form', 'the rows are not written as this format writes them');
  }
  return {
    run: about.run,
    lot: run.lot.number,
    part: run.part.number,
    disposition: decided.disposition,
    simulated: run.meter?.identity.simulated ?? false,
    readings: run.readings.size,
    sha256: bytesToHex(sha256(bytes)),
    checked: wordsFor(run, decided),
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

/**
 * Refuses a disposition that does not follow from the run: against plan and tally, or with nothing standing behind its
 * readings. Its three rows end the file's `length` rows.
 */
function mustFollow(run: Run, { disposition, by, reason, at }: Decision, length: number): void {
  const result = decide(run, { type: 'decide-lot', disposition, by, reason }, at);
  if (!(result instanceof Problem)) return;
  if (result.code === 'reason-missing') throw broken(length, 'a lot on hold must have a reason');
  if (result.code !== 'decision-against-plan') throw broken(length - 2, `${disposition}, but ${result.what}`);
  const { tally, plan } = run;
  const counts = `${tally.nonconforming} nonconforming in ${tally.counted} of ${plan.sampleSize} pieces`;
  throw broken(length - 2, `${disposition} against the plan: ${counts}, Ac ${plan.accept}, Re ${plan.reject}`);
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index]);
}

function wordsFor(run: Run, decided: Decision): string[] {
  const { window, part, plan, tally } = run;
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
    checkWords(run),
    `Calibration: ${calibrationWords(run) || 'no meter was connected'}`,
    `${run.readings.size} readings: value and verdict of each from the meter's text less the zero, ${tally.voided} of them void, ${tally.suspect} suspect`,
    `${tally.counted} counted, ${tally.nonconforming} nonconforming; lowest, highest and mean`,
    `Disposition ${decided.disposition} against the plan's numbers`,
  ];
}

function checkWords(run: Run): string {
  const [failed, waived, byWord] = [checksThat(run, 'failed'), checksThat(run, 'waived'), checksThat(run, 'by-word')];
  return `${checksDone(run)} checks of the bench, in their order, each judged anew from what was read: ${failed} failed, ${waived} waived, ${byWord} by word only`;
}
