import * as z from 'zod';
import { BrokenFile } from '../certificate/brokenFile.ts';
import { publicKeyIn } from '../certificate/signature.ts';
import { problem } from '../problem/problem.ts';
import { decimalText } from '../quantity/decimal.ts';
import { orderOf } from './order.ts';
import type { CrossedReading, Reference, SingleReading, StudyReadings } from './reading.ts';
import type { StudyRecord } from './studyFile.ts';
import { STUDY_FORMAT, type StudyColumn, type StudyRowKind, studyRow } from './studyFormat.ts';
import { type StudyChoice, studyChoice } from './studyPlan.ts';

type Row = { number: number; cells: Record<StudyColumn, string> };

const time = z.iso.datetime({ offset: true });
const WHOLE = /^\d{1,10}$/;

/** Says where a study's file does not hold. */
export function brokenStudy(where: string, why: string): BrokenFile {
  const [, row] = /^row (\d+)$/.exec(where) ?? [];
  return new BrokenFile(problem('study-broken', where, why), row === undefined ? null : Number(row));
}

/**
 * Reads back what was put into a study's file: what it is of, the choice, window, reference and readings. Everything else
 * is for the caller to work out anew. Of a measured study the readings must be in the order that follows from its seed.
 * @param given all rows of the file without header, digest and signature, as cells
 * @throws problem study-broken with the row
 */
export function readStudy(given: readonly (readonly string[])[]): StudyRecord {
  const rows = given.map((row, index): Row => ({ number: index + 2, cells: studyRow(row) }));
  const all = (kind: StudyRowKind, item?: string) =>
    rows.filter(({ cells: { row, item: of } }) => row === kind && (item === undefined || of === item));
  const one = (kind: StudyRowKind, item: string): Row => {
    const [first] = all(kind, item);
    if (first === undefined) throw brokenStudy('its rows', `there is no row "${kind}, ${item}"`);
    return first;
  };
  const text = (kind: StudyRowKind, item: string) => one(kind, item).cells.text;

  if (text('study', 'format') !== STUDY_FORMAT) {
    throw brokenStudy(`row ${one('study', 'format').number}`, `the format is not "${STUDY_FORMAT}"`);
  }
  const key = one('study', 'key');
  const publicKey = publicKeyIn(key.cells.text);
  if (publicKey === null) throw brokenStudy(`row ${key.number}`, 'it names no Ed25519 key by its fingerprint');
  const at = one('study', 'made at');
  if (!time.safeParse(at.cells.text).success)
    throw brokenStudy(`row ${at.number}`, 'it is no time in ISO 8601 with offset');
  const window = one('part', 'window');
  const [lower, upper] = [decimalOrNone(window, 'lower_ohms'), decimalOrNone(window, 'upper_ohms')];
  const design = one('study', 'design');
  const [value] = all('reference', 'value');
  const reference = value === undefined ? null : referenceOf(value, one('reference', 'expanded uncertainty'));
  const of = readingsIn(design, all('reading'), reference);
  const choice =
    all('choice').length === 0
      ? null
      : choiceIn({ design: of.design, text, operators: all('choice', 'operator'), reference });
  if (choice !== null) mustFollowOrder(choice, all('reading'));
  return {
    version: text('study', 'program version'),
    publicKey,
    title: text('study', 'title'),
    by: text('study', 'made by'),
    at: at.cells.text,
    part: text('part', 'number'),
    window: lower === null && upper === null ? null : { lower, upper },
    choice,
    of,
  };
}

function decimal({ number, cells }: Row, column: StudyColumn): string {
  if (!decimalText.safeParse(cells[column]).success)
    throw brokenStudy(`row ${number}`, `${column} is no plain decimal`);
  return cells[column];
}

function decimalOrNone(row: Row, column: StudyColumn): string | null {
  return row.cells[column] === '' ? null : decimal(row, column);
}

function whole({ number, cells }: Row, column: StudyColumn): number {
  if (!WHOLE.test(cells[column])) throw brokenStudy(`row ${number}`, `${column} is no whole number`);
  return Number(cells[column]);
}

function referenceOf(value: Row, uncertainty: Row): Reference {
  return { ohms: decimal(value, 'ohms'), uncertaintyOhms: decimalOrNone(uncertainty, 'ohms') };
}

function readingsIn(design: Row, rows: readonly Row[], reference: Reference | null): StudyReadings {
  if (design.cells.text === 'crossed') {
    const readings = rows.map(
      (row): CrossedReading => ({
        piece: row.cells.piece,
        operator: row.cells.operator,
        repeat: whole(row, 'repeat'),
        ohms: decimal(row, 'ohms'),
      }),
    );
    return { design: 'crossed', readings };
  }
  if (design.cells.text !== 'single')
    throw brokenStudy(`row ${design.number}`, 'the design is neither crossed nor single');
  const readings = rows.map(
    (row): SingleReading => ({
      piece: row.cells.piece,
      run: whole(row, 'run'),
      session: whole(row, 'session'),
      repeat: whole(row, 'repeat'),
      ohms: decimal(row, 'ohms'),
    }),
  );
  return { design: 'single', readings, reference };
}

function choiceIn(of: {
  design: StudyChoice['design'];
  text: (kind: 'choice', item: string) => string;
  operators: readonly Row[];
  reference: Reference | null;
}): StudyChoice {
  const number = (item: string): number => {
    const said = of.text('choice', item);
    if (!WHOLE.test(said)) throw brokenStudy('its choice', `${item} is no whole number`);
    return Number(said);
  };
  const read = studyChoice.safeParse({
    kind: 'study',
    design: of.design,
    pieces: number('pieces'),
    operators: of.operators.map(({ cells }) => cells.operator),
    repeats: number('repeats'),
    sessions: number('sessions'),
    runs: number('runs'),
    seed: number('seed'),
    referenceOhms: of.reference?.ohms ?? null,
    referenceUncertaintyOhms: of.reference?.uncertaintyOhms ?? null,
  });
  if (!read.success) throw brokenStudy('its choice', read.error.issues[0]?.message ?? 'it is none');
  return read.data;
}

function mustFollowOrder(choice: StudyChoice, rows: readonly Row[]): void {
  const order = orderOf(choice);
  if (rows.length !== order.length) {
    throw brokenStudy('its readings', `there are ${rows.length}, but the choice asks for ${order.length}`);
  }
  for (const [index, { number, cells }] of rows.entries()) {
    const turn = order[index];
    if (turn === undefined) continue;
    const crossed = choice.design === 'crossed';
    const wanted: [StudyColumn, string][] = [
      ['piece', String(turn.piece)],
      ['operator', crossed ? turn.operator : ''],
      ['run', crossed ? '' : String(turn.run)],
      ['session', crossed ? '' : String(turn.session)],
      ['repeat', String(turn.repeat)],
    ];
    for (const [column, value] of wanted) {
      if (cells[column] === value) continue;
      throw brokenStudy(
        `row ${number}`,
        `${column} is "${cells[column]}", but the order from the seed gives "${value}"`,
      );
    }
  }
}
