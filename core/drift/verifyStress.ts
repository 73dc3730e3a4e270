import * as z from 'zod';
import { BrokenFile } from '../certificate/brokenFile.ts';
import type { FileBytes } from '../certificate/fileBytes.ts';
import { publicKeyIn } from '../certificate/signature.ts';
import { DIGEST_FITS, signatureWords, verifyClosed } from '../certificate/verifyClosed.ts';
import { Problem, problem } from '../problem/problem.ts';
import type { TellProgress } from '../progress/progress.ts';
import { decimalText } from '../quantity/decimal.ts';
import { type PieceValue, type StressResult, stressResult } from './stress.ts';
import { STRESS_CLOSED } from './stressClosed.ts';
import { type StressRecord, stressRows } from './stressFile.ts';
import { OPEN, STRESS_FORMAT, type StressColumn, stressCell, stressCells } from './stressFormat.ts';
import { parseStressLimit } from './stressLimit.ts';

/** What an intact file of such a comparison says. */
export interface VerifiedStress {
  record: StressRecord;
  result: StressResult;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
  /** The public key that signed it, 64 characters of hex. */
  publicKey: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const time = z.iso.datetime({ offset: true });
const HEADER_ROWS = [
  'format',
  'program version',
  'key',
  'made by',
  'made at',
  'treatment',
  'limit',
  'source before',
  'source after',
];

/**
 * Checks the file of a comparison: that no byte was changed since it was written, that every change, limit and verdict follows from
 * the values in it, all worked out anew, and that the key it names signed it.
 * @param tell told of rows as they are read
 * @throws problem stress-broken, naming the first row and column that differ, else the digest or the signature
 */
export function verifyStress(file: FileBytes | Uint8Array, tell?: TellProgress): VerifiedStress {
  const { found, sha256, publicKey } = verifyClosed(
    file,
    STRESS_CLOSED,
    (rows) => {
      const record = readRecord([...rows]);
      const result = readAgain('its pieces', () => stressResult(record.of));
      return {
        found: { record, result },
        publicKey: record.publicKey,
        rows: stressRows(record, result).map(stressCells),
      };
    },
    tell,
  );
  return { ...found, sha256, publicKey, checked: wordsFor(found.result, publicKey) };
}

function broken(where: string, why: string): BrokenFile {
  const [, row] = /^row (\d+)$/.exec(where) ?? [];
  return new BrokenFile(problem('stress-broken', where, why), row === undefined ? null : Number(row));
}

/** Reads back what was put in; everything else is worked out anew. */
function readRecord(rows: readonly (readonly string[])[]): StressRecord {
  const texts = HEADER_ROWS.map((item, index) => {
    const row = rows[index] ?? [];
    if (stressCell(row, 'row') !== 'stress' || stressCell(row, 'item') !== item) {
      throw broken(`row ${index + 2}`, `"stress, ${item}" must stand here`);
    }
    return stressCell(row, 'text');
  });
  const [
    format,
    version = '',
    key = '',
    by = '',
    at = '',
    treatment = '',
    limit = '',
    beforeSource = '',
    afterSource = '',
  ] = texts;
  if (format !== STRESS_FORMAT) throw broken('row 2', `the format is not "${STRESS_FORMAT}"`);
  const publicKey = publicKeyIn(key);
  if (publicKey === null) throw broken('row 4', 'it names no Ed25519 key by its fingerprint');
  if (!time.safeParse(at).success) throw broken('row 6', 'it is no time in ISO 8601 with offset');
  return {
    version,
    publicKey,
    by,
    at,
    beforeSource,
    afterSource,
    of: { treatment, limit: readAgain('row 8', () => parseStressLimit(limit)), ...listsIn(rows) },
  };
}

function listsIn(rows: readonly (readonly string[])[]): Record<'before' | 'after', PieceValue[]> {
  const lists: Record<'before' | 'after', PieceValue[]> = { before: [], after: [] };
  for (const [index, row] of rows.entries()) {
    if (stressCell(row, 'row') !== 'piece') continue;
    const decimal = (column: StressColumn): string => {
      const text = stressCell(row, column);
      if (!decimalText.safeParse(text).success) throw broken(`row ${index + 2}`, `${column} is no plain decimal`);
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

function wordsFor(
  { pieces, limitText, beyond, missing, extra, openBefore }: StressResult,
  publicKey: string,
): string[] {
  return [
    DIGEST_FITS,
    signatureWords(publicKey),
    `Change, limit and verdict of ${pieces.length} pieces against ${limitText}, from their two values: ${beyond} beyond`,
    `${missing.length} missing, ${extra.length} extra, ${openBefore.length} open before; lowest, highest and mean change`,
  ];
}
