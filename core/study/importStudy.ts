import { givenTable, mustHave, mustStandOnce, shortened } from '../certificate/givenTable.ts';
import { plainText } from '../certificate/safeText.ts';
import { type Problem, problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { meterNumber } from '../quantity/meterNumber.ts';
import type { CrossedReading, SingleReading } from './reading.ts';
import { MOST_TURNS } from './studyPlan.ts';

/** Readings found in a CSV file. */
export type ImportedReadings =
  | { design: 'crossed'; readings: readonly CrossedReading[] }
  | { design: 'single'; readings: readonly SingleReading[] };

type Known = 'piece' | 'operator' | 'run' | 'session' | 'repeat' | 'ohms';

/** Columns each design must have; `run` may be left out. */
const NEEDED = {
  crossed: ['piece', 'operator', 'repeat', 'ohms'],
  single: ['piece', 'session', 'repeat', 'ohms'],
} as const;

const LONGEST_NAME = 100;
/** Far more than so many readings need. */
const MOST_BYTES = 5_000_000;

/**
 * Reads the readings of a study from a CSV file (RFC 4180, UTF-8; a byte order mark and plain line feeds are taken too).
 * The first row names the columns, in any order and case: `piece,operator,repeat,ohms` for a crossed study;
 * `piece,session,repeat,ohms`, and `run` where there are several, for a single-operator study. Values are plain numbers
 * in ohms, with or without exponent and with a decimal dot. At most 10 000 readings.
 * Whether the readings make a study is for crossedStudy and singleStudy.
 * @throws problem study-file-unreadable, naming the row (the header being row 1)
 */
export function importStudy(bytes: Uint8Array): ImportedReadings {
  if (bytes.length > MOST_BYTES) throw unreadable('as a whole', `it is larger than ${MOST_BYTES} bytes`);
  const { columns, rows } = givenTable(bytes, unreadable);
  const design = columns.includes('operator') ? 'crossed' : 'single';
  checkColumns(columns, design);
  if (rows.length === 0) throw unreadable('row 2', 'there are no readings');
  if (rows.length > MOST_TURNS) throw unreadable(`row ${MOST_TURNS + 2}`, `more than ${MOST_TURNS} readings`);

  const of = (row: readonly string[], column: Known) => row[columns.indexOf(column)] ?? '';
  const named = (row: readonly string[], index: number, column: 'piece' | 'operator'): string => {
    const name = plainText(of(row, column)).normalize('NFC').trim();
    if (name === '') throw unreadable(`row ${index + 2}`, `${column} is empty`);
    if (name.length > LONGEST_NAME)
      throw unreadable(`row ${index + 2}`, `${column} is longer than ${LONGEST_NAME} characters`);
    return name;
  };
  const numbered = (row: readonly string[], index: number, column: 'run' | 'session' | 'repeat'): number => {
    const text = of(row, column).trim();
    if (!/^0{0,9}[1-9]\d{0,4}$/.test(text)) {
      throw unreadable(`row ${index + 2}`, `${column} is "${shortened(text)}" instead of a whole number from 1`);
    }
    return Number(text);
  };

  if (design === 'crossed') {
    const readings = rows.map((row, index) => ({
      piece: named(row, index, 'piece'),
      operator: named(row, index, 'operator'),
      repeat: numbered(row, index, 'repeat'),
      ohms: ohmsOf(of(row, 'ohms'), index),
    }));
    return { design, readings };
  }
  const readings = rows.map((row, index) => ({
    piece: named(row, index, 'piece'),
    run: columns.includes('run') ? numbered(row, index, 'run') : 1,
    session: numbered(row, index, 'session'),
    repeat: numbered(row, index, 'repeat'),
    ohms: ohmsOf(of(row, 'ohms'), index),
  }));
  return { design, readings };
}

function checkColumns(columns: readonly string[], design: ImportedReadings['design']): void {
  const allowed: readonly string[] = design === 'crossed' ? NEEDED.crossed : [...NEEDED.single, 'run'];
  mustHave(columns, NEEDED[design], unreadable);
  const strange = columns.find((column) => !allowed.includes(column));
  if (strange !== undefined) {
    throw unreadable('row 1', `the column "${shortened(strange)}" is not one of ${allowed.join(', ')}`);
  }
  mustStandOnce(columns, allowed, unreadable);
}

function ohmsOf(text: string, index: number): DecimalText {
  const found = meterNumber(text.trim());
  if (found?.kind === 'value') return found.text;
  const why =
    found?.kind === 'overload'
      ? 'an overload: a study needs pieces that have a value'
      : `"${shortened(text)}" instead of a number with a decimal dot and no unit`;
  throw unreadable(`row ${index + 2}`, `ohms is ${why}`);
}

function unreadable(where: string, why: string): Problem {
  return problem('study-file-unreadable', where, why);
}
