import { createReadStream } from 'node:fs';
import { createInterface } from 'node:readline';
import Database from 'better-sqlite3';
import * as z from 'zod';
import { readRecordEvent } from '../../core/contract/recordEvent.ts';
import { Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import type { GoingOn } from '../station/longWorks.ts';
import { checkAside } from './backUp.ts';
import type { Checked } from './checkFile.ts';
import { type Follows, THE_START } from './entryRows.ts';
import { entryHash } from './hashChain.ts';
import { setMark } from './marks.ts';
import { type Restored, takePlace } from './restore.ts';
import { migrating } from './schema.ts';
import { Stretches } from './stretches.ts';

/** Lines between two moments in which others come to their turn. */
const AT_ONE_GO = 1000;

const line = z.strictObject({
  position: z.number().int().positive(),
  run: z.number().int().positive(),
  event: z.looseObject({}),
  previous: z.string(),
  hash: z.string(),
});

/** The line that ends an export. */
const endLine = z.strictObject({ entries: z.number().int().nonnegative(), hash: z.string() });

/**
 * Makes the record of a folder anew from entries that were exported as lines of JSON. Each must be an event, follow the one before it and
 * have the hash it says it has, and the last line must say that these are all; so the record has the same hashes as the one that was exported. All of it or nothing.
 * @throws problems record-in-use, record-exists, record-import-wrong, file-unreadable, file-unwritable, work-stopped
 */
export function importRecord(file: string, folder: string, going: GoingOn): Promise<Restored> {
  return takePlace(folder, {
    replace: false,
    make: async (temporary): Promise<Checked> => {
      await fill(temporary, file, going);
      return checkAside(temporary, going);
    },
  });
}

async function fill(temporary: string, file: string, going: GoingOn): Promise<void> {
  const database = new Database(temporary);
  try {
    // Nobody else knows it, and it is checked as a whole before it is used: one write to the disk at the end does.
    database.pragma('journal_mode = MEMORY');
    database.pragma('synchronous = OFF');
    for (const _ of migrating(database, temporary, going.tell));
    database.exec('BEGIN');
    const end = await fillFrom(linesOf(file), { database, file, going });
    setMark(database, 'closed', end);
    database.exec('COMMIT');
  } finally {
    database.close();
  }
}

async function* linesOf(file: string): AsyncGenerator<string> {
  try {
    yield* createInterface({ input: createReadStream(file), crlfDelay: Number.POSITIVE_INFINITY });
  } catch (thrown) {
    if (thrown instanceof Problem) throw thrown;
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}

async function fillFrom(
  lines: AsyncIterable<string>,
  { database, file, going }: { database: Database.Database; file: string; going: GoingOn },
): Promise<Follows> {
  const insert = database.prepare('INSERT INTO entry (position, run, event, previous, hash) VALUES (?, ?, ?, ?, ?)');
  const stretches = new Stretches(database);
  let end = THE_START;
  let isWhole = false;
  for await (const text of lines) {
    if (text === '') continue;
    const said = parsed(text);
    const wrong = (why: string) => problem('record-import-wrong', file, end.position + 1, why);
    if (isWhole) throw wrong('it stands behind the line that ends the export');
    const ended = endLine.safeParse(said);
    if (ended.success) {
      const { entries, hash } = ended.data;
      if (entries !== end.position || hash !== end.hash) throw wrong(`${entries} entries are said to be there`);
      isWhole = true;
      continue;
    }
    const { run, event } = entryIn(said, end, wrong);
    const position = end.position + 1;
    const hash = entryHash(end.hash, position, run, event);
    stretches.goOn(run, position);
    insert.run(position, run, event, Buffer.from(end.hash, 'hex'), Buffer.from(hash, 'hex'));
    stretches.kept(run);
    end = { position, hash };
    if (position % AT_ONE_GO !== 0) continue;
    going.throwIfStopped();
    going.tell({ step: 'rows-read', done: position, of: position });
  }
  if (!isWhole) {
    throw problem(
      'record-import-wrong',
      file,
      end.position + 1,
      'the line that ends an export is missing, and so may be others',
    );
  }
  return end;
}

/** The entry of a line, its event as the very text that its hash is of. @throws problem record-import-wrong */
function entryIn(said: unknown, before: Follows, wrong: (why: string) => Problem): { run: number; event: string } {
  const position = before.position + 1;
  const entry = line.safeParse(said);
  if (!entry.success) throw wrong('it is no entry of a record');
  const { run, event, previous, hash } = entry.data;
  if (entry.data.position !== position || previous !== before.hash)
    throw wrong('it does not follow the line before it');
  const eventText = JSON.stringify(event);
  if (hash !== entryHash(previous, position, run, eventText)) throw wrong('its hash is not that of what it says');
  try {
    readRecordEvent(event);
  } catch {
    throw wrong('its event is none');
  }
  return { run, event: eventText };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
