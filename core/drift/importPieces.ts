import { givenTable, mustHave, mustStandOnce, shortened } from '../certificate/givenTable.ts';
import { plainText } from '../certificate/safeText.ts';
import { type Problem, problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { meterNumber } from '../quantity/meterNumber.ts';
import { type PieceValue, pieceName } from './stress.ts';

const NEEDED = ['piece', 'ohms'] as const;
const KNOWN = [...NEEDED, 'expanded_ohms'] as const;
type Known = (typeof KNOWN)[number];

const LONGEST_NAME = 100;
const MOST_PIECES = 100_000;
const OPEN = 'open';

/**
 * Reads numbered pieces and their values from a CSV file (RFC 4180, UTF-8; a byte order mark and plain line feeds are taken
 * too). The first row names the columns, in any order and case: `piece`, `ohms`, and where it is known `expanded_ohms`, the
 * expanded uncertainty (k = 2). Values are plain numbers in ohms, with or without exponent and with a decimal dot; an open
 * piece reads `open`, or what a meter sends of an overload. Other columns are left alone. At most 100 000 pieces.
 * @throws problem stress-file-unreadable, naming the row (the header being row 1)
 */
export function importPieces(bytes: Uint8Array): PieceValue[] {
  const { columns, rows } = givenTable(bytes, unreadable);
  mustHave(columns, NEEDED, unreadable);
  mustStandOnce(columns, KNOWN, unreadable);
  if (rows.length === 0) throw unreadable('row 2', 'there are no pieces');
  if (rows.length > MOST_PIECES) throw unreadable(`row ${MOST_PIECES + 2}`, `more than ${MOST_PIECES} pieces`);

  const rowOf = new Map<string, number>();
  return rows.map((row, index) => {
    const where = `row ${index + 2}`;
    const cell = (column: Known) => (row[columns.indexOf(column)] ?? '').trim();
    const piece = pieceName(plainText(cell('piece')));
    if (piece === '') throw unreadable(where, 'piece is empty');
    if (piece.length > LONGEST_NAME) throw unreadable(where, `piece is longer than ${LONGEST_NAME} characters`);
    const before = rowOf.get(piece);
    if (before !== undefined) throw unreadable(where, `piece ${piece} stands in row ${before} already`);
    rowOf.set(piece, index + 2);
    return { piece, ohms: ohmsOf(cell('ohms'), where), expandedOhms: expandedOf(cell('expanded_ohms'), where) };
  });
}

function ohmsOf(text: string, where: string): DecimalText | null {
  if (text.toLowerCase() === OPEN) return null;
  const found = meterNumber(text);
  if (found?.kind === 'overload') return null;
  if (found?.kind === 'value') return found.text;
  throw unreadable(where, `ohms is "${shortened(text)}" instead of a number with a decimal dot and no unit`);
}

function expandedOf(text: string, where: string): DecimalText | null {
  if (text === '') return null;
  const found = meterNumber(text);
  if (found?.kind === 'value' && !found.text.startsWith('-')) return found.text;
  throw unreadable(where, `expanded_ohms is "${shortened(text)}" instead of a number, 0 or more`);
}

function unreadable(where: string, why: string): Problem {
  return problem('stress-file-unreadable', where, why);
}
