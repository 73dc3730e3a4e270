import * as z from 'zod';
import {
  bodyOf,
  type ClosedFormat,
  cellsOfBody,
  DIGEST_FITS,
  hexDigest,
  mustBeWrittenAlike,
  mustComeOutTheSame,
} from '../certificate/closedFile.ts';
import { Problem, problem } from '../problem/problem.ts';
import type { TellProgress } from '../progress/progress.ts';
import { decimalText } from '../quantity/decimal.ts';
import { type PieceValue, type StressResult, stressResult } from './stress.ts';
import { type StressRecord, stressRows } from './stressFile.ts';
import { OPEN, STRESS_COLUMNS, STRESS_FORMAT, type StressColumn, stressCell, stressCells } from './stressFormat.ts';
import { parseStressLimit } from './stressLimit.ts';

/** What an intact file of such a comparison says. */
export interface VerifiedStress {
  record: StressRecord;
  result: StressResult;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const FORMAT: ClosedFormat = { columns: STRESS_COLUMNS, inputs: 'the values', broken };
const time = z.iso.datetime({ offset: true });
const HEADER_ROWS = [
  'format',
  'program version',
  'made by',
  'made at',
  'treatment',
  'limit',
  'source before',
  'source after',
];

/**
 * Checks the file of a comparison: first that no byte was changed since it was written, then that every change, limit and
 * verdict follows from the values in it, all worked out anew.
 * @param tell told of rows as they are written anew
 * @throws problem stress-broken, naming the digest or the first row and column that differ
 */
export function verifyStress(bytes: Uint8Array, tell?: TellProgress): VerifiedStress {
  const body = bodyOf(bytes, FORMAT);
  const cells = cellsOfBody(body, FORMAT);
  const record = readRecord(cells);
  const result = readAgain('its pieces', () => stressResult(record.of));
  const again = stressRows(record, result).map(stressCells);
  mustComeOutTheSame(cells, again, FORMAT);
  mustBeWrittenAlike(body, again, FORMAT, tell);
  return { record, result, sha256: hexDigest(bytes), checked: wordsFor(result) };
}

function broken(where: string, why: string): Problem {
  return problem('stress-broken', where, why);
}

/** Reads back what was put in; everything else is worked out anew. */
function readRecord(cells: readonly (readonly string[])[]): StressRecord {
  const texts = HEADER_ROWS.map((item, index) => {
    const row = cells[index + 1] ?? [];
    if (stressCell(row, 'row') !== 'stress' || stressCell(row, 'item') !== item) {
      throw broken(`row ${index + 2}`, `"stress, ${item}" must stand here`);
    }
    return stressCell(row, 'text');
  });
  const [format, version = '', by = '', at = '', treatment = '', limit = '', beforeSource = '', afterSource = ''] =
    texts;
  if (format !== STRESS_FORMAT) throw broken('row 2', `the format is not "${STRESS_FORMAT}"`);
  if (!time.safeParse(at).success) throw broken('row 5', 'it is no time in ISO 8601 with offset');
  return {
    version,
    by,
    at,
    beforeSource,
    afterSource,
    of: { treatment, limit: readAgain('row 7', () => parseStressLimit(limit)), ...listsIn(cells) },
  };
}

function listsIn(cells: readonly (readonly string[])[]): Record<'before' | 'after', PieceValue[]> {
  const lists: Record<'before' | 'after', PieceValue[]> = { before: [], after: [] };
  for (const [index, row] of cells.entries()) {
    if (index === 0 || stressCell(row, 'row') !== 'piece') continue;
    const decimal = (column: StressColumn): string => {
      const text = stressCell(row, column);
      if (!decimalText.safeParse(text).success) throw broken(`row ${index + 1}`, `${column} is no plain decimal`);
      return text;
    };
    for (const when of ['before', 'after'] as const) {
      const ohms = stressCell(row, `${when}_ohms`);
      if (ohms === '') continue;
      const expanded = stressCell(row, `${when}_expanded_ohms`);
      lists[when].push({
        piece: stressCell(row, 'piece'),
        ohms: ohms === OPEN ? null : decimal(`${when}_ohms`),
        expandedOhms: expanded === '' ? null : decimal(`${when}_expanded_ohms`),
      });
    }
  }
  return lists;
}

/** A problem with what the file says is a fault of the file. */
function readAgain<T>(where: string, read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    if (thrown instanceof Problem) throw broken(where, thrown.what);
    throw thrown;
  }
}

function wordsFor({ pieces, limitText, beyond, missing, extra, openBefore }: StressResult): string[] {
  return [
    DIGEST_FITS,
    `Change, limit and verdict of ${pieces.length} pieces against ${limitText}, from their two values: ${beyond} beyond`,
    `${missing.length} missing, ${extra.length} extra, ${openBefore.length} open before; lowest, highest and mean change`,
  ];
}
