import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import writeFileAtomic from 'write-file-atomic';
import { checked } from '../../core/contract/invalid.ts';
import { MOST_PARTS, meaningOf, type Part, part } from '../../core/part/part.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { codeOf } from '../codeOf.ts';

/** Parts gone through at one go: a meter that is being read meanwhile waits no longer than that. */
export const AT_ONE_GO = 200;

/** The parts as they stand in the file, and which state of the file that is. */
interface Held {
  version: string;
  byNumber: ReadonlyMap<string, Part>;
}

/** The parts list of a station: one file, `parts.json` in the data folder, written whole at every change. */
export interface KnownParts {
  /** All parts by number, in the order of their numbers, and a text that changes with any change of them. */
  all(): Promise<Held>;
  /**
   * Keeps a part.
   * @param was the number it was known by until now, where it was
   * @param over whether it may take the place of another part of its number
   * @throws problems of meaningOf, part-known-already, parts-too-many and of reading and writing the file
   */
  save(kept: Part, was: string | null, over: boolean): Promise<void>;
  /** @throws problems part-unknown and of reading and writing the file */
  remove(number: string): Promise<void>;
  /**
   * Puts a whole list in the place of the one that is there.
   * @param text as `partsText` makes it
   * @param version what `all` gave of the list that it was made of
   * @throws problems parts-changed-meanwhile and of writing the file
   */
  replace(text: string, version: string): Promise<void>;
  /** Resolves when everything that was asked for is written, or has failed. */
  settled(): Promise<void>;
}

/** Opens the parts list of a data folder. A file that cannot be read is never overwritten. */
export function knownParts(folder: string): KnownParts {
  const file = join(folder, 'parts.json');
  let held: Held | null = null;
  /** What was asked for last: one thing after the other, so that none undoes another. */
  let last: Promise<unknown> = Promise.resolve();

  async function readAnew(): Promise<Held> {
    const version = await versionOf(file);
    if (held?.version !== version) held = { version, byNumber: await readParts(file) };
    return held;
  }

  function inTurn<T>(what: () => Promise<T>): Promise<T> {
    const done = last.then(what);
    last = done.catch(() => undefined);
    return done;
  }

  /** What is known is changed only where it is on the disk. */
  function change(to: (before: Held) => Map<string, Part>): Promise<void> {
    return inTurn(async () => {
      const parts = to(await readAnew());
      const byNumber = inOrder(parts);
      const text = partsText(byNumber);
      held = null;
      await writeParts(file, text);
      held = { version: await versionOf(file), byNumber };
    });
  }

  return {
    all: () => inTurn(readAnew),
    save: async (kept, was, over) => {
      meaningOf(kept);
      await change(({ byNumber }) => {
        const parts = new Map(byNumber);
        if (was !== null && was !== kept.number) parts.delete(was);
        if (parts.has(kept.number) && was !== kept.number && !over) throw problem('part-known-already', kept.number);
        return parts.set(kept.number, kept);
      });
    },
    remove: (number) =>
      change(({ byNumber }) => {
        const parts = new Map(byNumber);
        if (!parts.delete(number)) throw problem('part-unknown', number);
        return parts;
      }),
    replace: (text, version) =>
      inTurn(async () => {
        if ((await versionOf(file)) !== version) throw problem('parts-changed-meanwhile');
        held = null;
        await writeParts(file, text);
      }),
    settled: async () => {
      await last;
    },
  };
}

const COLLATOR = new Intl.Collator('en', { numeric: true });

/** Parts in the order of their numbers. */
export function inOrder(parts: ReadonlyMap<string, Part>): Map<string, Part> {
  return new Map([...parts].sort(([a], [b]) => COLLATOR.compare(a, b) || (a < b ? -1 : 1)));
}

/** Changes whenever the file does: every writing puts a new file in the place of the old one. */
async function versionOf(file: string): Promise<string> {
  try {
    const { ino, size, mtimeNs } = await stat(file, { bigint: true });
    return `${ino}-${size}-${mtimeNs}`;
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return 'none';
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}

/** @throws problems file-unreadable, input-invalid naming the file, the part and the field */
async function readParts(file: string): Promise<Map<string, Part>> {
  let listed: unknown;
  try {
    listed = JSON.parse(await readFile(file, 'utf8'));
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return new Map();
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
  if (!Array.isArray(listed)) throw problem('input-invalid', file, 'is not a list of parts');
  const parts = new Map<string, Part>();
  for (const [index, each] of listed.entries()) {
    const read = checked(`${file}, part ${index + 1}`, part, each);
    parts.set(read.number, read);
    if (index % AT_ONE_GO === AT_ONE_GO - 1) await setImmediate();
  }
  return inOrder(parts);
}

/** The text of the file of these parts, a part to a line. @throws problem parts-too-many */
export function partsText(parts: ReadonlyMap<string, Part>): string {
  if (parts.size > MOST_PARTS) throw problem('parts-too-many', parts.size, MOST_PARTS);
  const lines = [...parts.values()].map((each) => JSON.stringify(each));
  return lines.length === 0 ? '[]\n' : `[\n${lines.join(',\n')}\n]\n`;
}

/** Writes the file whole, in place of what was there. @throws problem file-unwritable */
async function writeParts(file: string, text: string): Promise<void> {
  try {
    await writeFileAtomic(file, text);
  } catch (thrown) {
    throw problem('file-unwritable', file, wordsOf(thrown));
  }
}
