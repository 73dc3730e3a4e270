import { join, resolve } from 'node:path';
import { asProblem, type ProblemCode } from '../../core/problem/problem.ts';
import { formatCount } from '../../core/quantity/formatCount.ts';
import { backUp, checkAside } from '../record/backUp.ts';
import { exportRecord } from '../record/exportRecord.ts';
import { importRecord } from '../record/importRecord.ts';
import { openRecord, RECORD_FILE } from '../record/record.ts';
import { restoreRecord } from '../record/restore.ts';
import { dataFolders } from '../station/dataFolder.ts';
import type { GoingOn } from '../station/longWorks.ts';
import { readyingRecord } from '../station/readyingRecord.ts';
import { exitStatus } from './exitStatus.ts';
import { LiveLine } from './liveLine.ts';
import { tame } from './tame.ts';

/** What every command on a record takes. */
export interface RecordOptions {
  data?: string;
  json?: boolean;
}

/** What shows that a record is not as it was written, as against one that could not be looked at. */
const NOT_INTACT: ReadonlySet<ProblemCode> = new Set([
  'record-altered',
  'record-cut',
  'record-damaged',
  'record-rows-altered',
]);

/** Checks the record of a folder, or a copy of one, whole; a station may be open on it. */
export async function checkCommand(file: string | undefined, { data, json }: RecordOptions): Promise<number> {
  const found = file ?? recordIn(data);
  try {
    const checked = await withLine(`Checking ${tame(found)}`, (going) => checkAside(found, going));
    say(json, { file: found, intact: true, ...checked }, `${found}: intact. ${contents(checked)}`);
    return exitStatus.good;
  } catch (thrown) {
    const problem = asProblem(thrown);
    if (!NOT_INTACT.has(problem.code)) throw problem;
    if (json) console.log(JSON.stringify({ file: found, intact: false, problem }));
    else console.error(`${found}: ${problem.message}`);
    return exitStatus.bad;
  }
}

/** Copies the record into a file, a station may be open on it and be measuring. */
export async function backupCommand(file: string, { data, json }: RecordOptions): Promise<number> {
  const copied = await withLine('Backing up', (going) => backUp(recordIn(data), resolve(file), going));
  say(json, copied, `${copied.file}: ${formatCount(copied.bytes)} bytes. ${contents(copied)}`);
  return exitStatus.good;
}

/** Puts a copy in the place of a record. */
export async function restoreCommand(
  file: string,
  { data, json, replace = false }: RecordOptions & { replace?: boolean },
): Promise<number> {
  const folder = dataFolders(data).data;
  const restored = await withLine('Restoring', (going) => restoreRecord(resolve(file), folder, { replace, going }));
  const kept = restored.kept ? ` The record that was there is kept as ${restored.kept}.` : '';
  say(json, restored, `${restored.file}: restored. ${contents(restored)}${kept}`);
  return exitStatus.good;
}

/** Writes everything in the record into a new folder, in open formats; a station may be open on it. */
export async function exportCommand(folder: string, { data, json }: RecordOptions): Promise<number> {
  const done = await withLine('Exporting', (going) => exportRecord(recordIn(data), resolve(folder), going));
  say(json, done, `${done.folder}: ${formatCount(done.entries)} entries, the last with the hash ${done.hash}`);
  return exitStatus.good;
}

/** Makes a record from entries that were exported. */
export async function importCommand(file: string, { data, json }: RecordOptions): Promise<number> {
  const folder = dataFolders(data).data;
  const made = await withLine('Importing', (going) => importRecord(resolve(file), folder, going));
  say(json, made, `${made.file}: imported. ${contents(made)}`);
  return exitStatus.good;
}

/** Makes the tables of runs anew from the entries; no station may be open. */
export async function rebuildCommand({ data, json }: RecordOptions): Promise<number> {
  const record = openRecord(dataFolders(data).data);
  try {
    record.forgetRows();
    await withLine('Making the tables of runs anew', async ({ tell }) => {
      for (const _ of readyingRecord(record, tell));
    });
    const runs = record.rows.count();
    say(json, { file: record.file, runs }, `${record.file}: the tables of ${formatCount(runs)} runs were made anew`);
    return exitStatus.good;
  } finally {
    record.close();
  }
}

function recordIn(data: string | undefined): string {
  return join(dataFolders(data).data, RECORD_FILE);
}

function contents({ entries, runs, hash }: { entries: number; runs: number; hash: string }): string {
  return `${formatCount(entries)} entries of ${formatCount(runs)} runs, the last with the hash ${hash}`;
}

function say(json: boolean | undefined, facts: object, words: string): void {
  console.log(json ? JSON.stringify(facts) : tame(words));
}

/** Work that a terminal is told about; Ctrl-C ends the process. */
async function withLine<T>(words: string, work: (going: GoingOn) => Promise<T>): Promise<T> {
  const line = new LiveLine(words);
  try {
    return await work({ tell: line.tell, signal: new AbortController().signal, throwIfStopped: () => undefined });
  } finally {
    line.end();
  }
}
