import { createHash } from 'node:crypto';
import { appendFile, readdir, readFile, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { LotClaim } from '../../core/inspection/lotClaim.ts';
import { asProblem, type ProblemText, problem, wordsOf } from '../../core/problem/problem.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { codeOf } from '../codeOf.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { openStation, type Station } from '../station/station.ts';
import { VERSION } from '../version.ts';
import { exitStatus } from './exitStatus.ts';
import { inspectRun, statusOf, stopSignal } from './inspect.ts';
import type { InspectOptions } from './job.ts';
import { LiveLine } from './liveLine.ts';
import { lotOfText } from './lotFile.ts';
import { Person } from './person.ts';
import { Progress } from './progress.ts';
import { wholeNumber } from './wholeNumber.ts';

export type BatchOptions = Omit<InspectOptions, 'goOn' | 'certificate'> & { watch?: boolean; results?: string };

/** What came of one lot description: a JSON line. Fields are only ever added. */
export interface BatchLine {
  file: string;
  /** SHA-256 (hex) of the description, so that a changed one is another. */
  sha256: string;
  at: string;
  /** Exit status this lot alone would have. */
  status: number;
  run?: number;
  part?: string;
  lot?: string;
  disposition?: string;
  counted?: number;
  nonconforming?: number;
  certificate?: { file: string; sha256: string };
  /** Why it could not be inspected. */
  problem?: ProblemText;
}

const LOOK_EVERY_MILLISECONDS = 500;
/** A file that is still being written changes within this time. */
const QUIET_MILLISECONDS = 1000;

/**
 * Inspects lots one after the other, each from a JSON file that describes it, and says of each in one JSON line what came of it.
 * Files of a folder come in the order of their names. What a results file says is done already, by the very same description, is not
 * done again, so that a batch that was stopped goes on where it was. With `--watch` folders are looked at until the command is stopped.
 * @returns exit status: 0 all accepted or studied, 1 any not accepted, 2 any could not be inspected
 */
export async function batch(paths: string[], options: BatchOptions): Promise<number> {
  const waitMilliseconds = wholeNumber('--wait', options.wait, 0, 86_400) * 1000;
  readAddress(options.meter);
  const results = options.results === undefined ? null : resolve(options.results);
  const done = await doneBefore(results);
  const checking = new LiveLine('Checking the record');
  const station = openStation({ folders: dataFolders(options.data), version: VERSION, tell: checking.tell });
  checking.end();
  const person = new Person();
  const stop = stopSignal(person);
  let worst: number = exitStatus.good;
  try {
    for (;;) {
      for (const file of await filesOf(paths, results)) {
        if (stop.aborted) return worst;
        const text = await settledText(file, options.watch ?? false);
        if (text === null) continue;
        const name = nameOf(file, createHash('sha256').update(text).digest('hex'));
        if (done.has(name.key)) continue;
        done.add(name.key);
        const line = await inspectOne(station, { ...name, text }, { options, waitMilliseconds, person, stop });
        // Stopped in the middle: the run is kept, and the next batch begins the lot anew.
        if (line.problem?.code === 'inspection-stopped') return Math.max(worst, exitStatus.couldNot);
        worst = Math.max(worst, line.status);
        await tell(line, results);
      }
      if (!options.watch) return worst;
      await wait(LOOK_EVERY_MILLISECONDS, undefined, { signal: stop }).catch(() => undefined);
      if (stop.aborted) return worst;
    }
  } finally {
    person.leave();
    await station.close();
  }
}

interface Description {
  file: string;
  sha256: string;
  text: string;
}

function nameOf(file: string, sha256: string): { file: string; sha256: string; key: string } {
  return { file, sha256, key: `${sha256} ${file}` };
}

/** Descriptions whose lot was decided by an earlier batch with these results. @throws problems file-unreadable, results-unwritable */
async function doneBefore(results: string | null): Promise<Set<string>> {
  const done = new Set<string>();
  if (results === null) return done;
  const text = await readFile(results, 'utf8').catch((thrown: unknown) => {
    if (codeOf(thrown) === 'ENOENT') return '';
    throw problem('file-unreadable', results, wordsOf(thrown));
  });
  for (const line of text.split('\n')) {
    const said = lineOf(line);
    if (said?.disposition !== undefined) done.add(nameOf(said.file, said.sha256).key);
  }
  // A line that a power cut left unfinished must not swallow the next one.
  if (text !== '' && !text.endsWith('\n')) await append(results, '\n');
  return done;
}

/** A line that was written; null for what is none, as a power cut leaves it. */
function lineOf(line: string): BatchLine | null {
  try {
    return JSON.parse(line) as BatchLine;
  } catch {
    return null;
  }
}

/** The files that are named, and those of the folders that are. @throws problem file-unreadable */
async function filesOf(paths: readonly string[], results: string | null): Promise<string[]> {
  const files: string[] = [];
  for (const path of paths.map((each) => resolve(each))) {
    try {
      const isFolder = (await stat(path)).isDirectory();
      const names = isFolder ? await descriptionsIn(path) : null;
      files.push(...(names === null ? [path] : names.map((name) => join(path, name))));
    } catch (thrown) {
      throw problem('file-unreadable', path, wordsOf(thrown));
    }
  }
  return files.filter((file) => file !== results);
}

/** Names of the files of a folder that may describe a lot, in order. */
async function descriptionsIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  return entries
    .filter((entry) => !entry.isDirectory() && /^[^.].*\.json$/i.test(entry.name))
    .map(({ name }) => name)
    .sort();
}

/** The text of a file; null of one that may still be written, or is gone again. */
async function settledText(file: string, isWatched: boolean): Promise<string | null> {
  try {
    const { mtimeMs } = await stat(file);
    // A clock that runs ahead, as on another machine's disk, must not keep a file waiting for ever.
    if (isWatched && Math.abs(Date.now() - mtimeMs) < QUIET_MILLISECONDS) return null;
    return await readFile(file, 'utf8');
  } catch (thrown) {
    if (isWatched && codeOf(thrown) === 'ENOENT') return null;
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}

interface With {
  options: BatchOptions;
  waitMilliseconds: number;
  person: Person;
  stop: AbortSignal;
}

async function inspectOne(station: Station, { file, sha256, text }: Description, asked: With): Promise<BatchLine> {
  const line = { file, sha256 };
  let known: Pick<BatchLine, 'run' | 'part' | 'lot'> = {};
  const say = new Progress(false);
  try {
    const claim: LotClaim = lotOfText(file, text);
    const { run: number } = await station.ask('receive-lot', { claim });
    known = { run: number, part: claim.part.number, lot: claim.lot.number };
    const { disposition, run, certificate } = await inspectRun({ ...asked, station, number, say });
    const { counted, nonconforming } = run.tally;
    return {
      ...line,
      at: new Date().toISOString(),
      status: statusOf(disposition),
      ...known,
      disposition,
      counted,
      nonconforming,
      certificate,
    };
  } catch (thrown) {
    const found = asProblem(thrown);
    say.line(found.message);
    return { ...line, at: new Date().toISOString(), status: exitStatus.couldNot, ...known, problem: found.toJSON() };
  }
}

/** On standard output, and behind the lines before it in the results file. @throws problem results-unwritable */
async function tell(line: BatchLine, results: string | null): Promise<void> {
  const text = `${JSON.stringify(line)}\n`;
  process.stdout.write(text);
  if (results !== null) await append(results, text);
}

async function append(results: string, text: string): Promise<void> {
  try {
    await appendFile(results, text, { flush: true });
  } catch (thrown) {
    throw problem('results-unwritable', results, wordsOf(thrown));
  }
}
