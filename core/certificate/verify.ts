import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { decide } from '../inspection/decide.ts';
import type { Disposition } from '../inspection/event.ts';
import type { Run } from '../inspection/run.ts';
import { Problem, problem } from '../problem/problem.ts';
import { formatTolerance } from '../window/parseTolerance.ts';
import { cellsOf, cellsOfCsv, csvOf, digestRow } from './csv.ts';
import { COLUMNS, EARLIER_FORMATS } from './format.ts';
import { type Decision, readRun } from './readRun.ts';
import { broken, quoted, RowReader } from './rowReader.ts';
import { rowsOf } from './rowsOf.ts';
import { calibrationWords, checksDone, checksThat } from './summaryRows.ts';

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

const DIGEST_BEGINS = utf8ToBytes('digest,sha-256,');

/** The bytes before the digest row, once that row fits them. */
function bodyOf(bytes: Uint8Array): Uint8Array {
  const body = bodyOfColumns(bytes, COLUMNS.length);
  if (body) return body;
  // An intact file of an earlier format is told as that, not as a changed one.
  for (const { name, columns, is } of EARLIER_FORMATS) {
    const rows = bodyOfColumns(bytes, columns) && rowsOfCsv(bytes);
    if (rows?.[1]?.[2] === name) throw broken(2, `it is of ${is}, and was written by an earlier version of Reelohm`);
  }
  throw problem('certificate-broken', 'the digest', 'the file is not, byte for byte, the one that was written');
}

/** The bytes before a digest row of so many columns that fits them; null where there is none. */
function bodyOfColumns(bytes: Uint8Array, columns: number): Uint8Array | null {
  const body = bytes.subarray(0, Math.max(0, bytes.length - digestRow(new Uint8Array(), columns).length));
  const row = bytes.subarray(body.length);
  // Where no digest row stands nothing needs to be digested.
  if (!sameBytes(row.subarray(0, DIGEST_BEGINS.length), DIGEST_BEGINS)) return null;
  return sameBytes(row, utf8ToBytes(digestRow(body, columns))) ? body : null;
}

function rowsOfCsv(bytes: Uint8Array): string[][] {
  try {
    return cellsOfCsv(bytes);
  } catch (thrown) {
    const why = thrown instanceof Error ? thrown.message : String(thrown);
    throw problem('certificate-broken', 'its form', `it is no CSV of equal rows: ${why}`);
  }
}

function rowsOfBody(body: Uint8Array): string[][] {
  const rows = rowsOfCsv(body);
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
  const { window, part, tally, decision } = run;
  const from =
    part.tolerance.kind === 'limits' ? 'limits as given' : `${part.nominal} Ω ${formatTolerance(part.tolerance)}`;
  const known = run.readings.count(({ uncertainty }) => uncertainty !== null);
  const rule =
    decision.rule === 'simple-acceptance'
      ? decision.rule
      : `${decision.rule}, guard bands of ${decision.guardFactor} U`;
  return [
    'The SHA-256 in the last row fits every byte before it (it shows changes, not who wrote the file)',
    `Window ${window.lower ?? 'open'} to ${window.upper ?? 'open'} Ω, from ${from}`,
    planWords(run),
    checkWords(run),
    `Calibration: ${calibrationWords(run) || 'no meter was connected'}`,
    `${run.readings.size} readings: value and verdict of each from the meter's text less the zero${temperatureWords(run)}, ${tally.voided} of them void, ${tally.suspect} suspect`,
    `Decision rule ${rule}; expanded uncertainty of ${known} readings, each from what was known at the bench, and how probable it is that their verdicts are wrong`,
    `${tally.counted} counted, ${tally.nonconforming} nonconforming; lowest, highest and mean`,
    run.plan.choice.kind === 'study'
      ? 'Every figure of the study, from its readings'
      : 'Every figure of spread, capability, shape, outliers, trend and drift, from the readings that count',
    `Disposition ${decided.disposition} against the plan's ${run.plan.choice.kind === 'study' ? 'turns' : 'numbers'}`,
  ];
}

function planWords({ plan, lot }: Run): string {
  const { choice, sampleSize, accept, reject } = plan;
  if (choice.kind === 'study') {
    return `Study (${choice.design}) of ${choice.pieces} pieces in ${sampleSize} turns, in the order that follows from seed ${choice.seed}`;
  }
  const chosen =
    choice.kind === 'aql'
      ? `a lot of ${lot.size}, level ${choice.level}, AQL ${choice.aql} (MIL-STD-105E, Table II-A)`
      : `agreed numbers for a lot of ${lot.size}`;
  return `Sample ${sampleSize}, Ac ${accept}, Re ${reject}, from ${chosen}`;
}

function temperatureWords({ temperature: { coefficient, referenceCelsius } }: Run): string {
  return coefficient.kind === 'known' ? `, brought to ${referenceCelsius} °C` : '';
}

function checkWords(run: Run): string {
  const [failed, waived, byWord] = [checksThat(run, 'failed'), checksThat(run, 'waived'), checksThat(run, 'by-word')];
  return `${checksDone(run)} checks of the bench, in their order, each judged anew from what was read: ${failed} failed, ${waived} waived, ${byWord} by word only`;
}
