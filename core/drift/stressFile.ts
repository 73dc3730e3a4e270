import { type Unsigned, unsigned } from '../certificate/closedFile.ts';
import { keyText } from '../certificate/signature.ts';
import { counting, TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import {
  type PieceValue,
  pieceName,
  type Stress,
  type StressedPiece,
  type StressResult,
  stressResult,
} from './stress.ts';
import { STRESS_CLOSED } from './stressClosed.ts';
import { OPEN, STRESS_FORMAT, type StressRow, stressCells } from './stressFormat.ts';

/** A comparison as it goes into a file. */
export interface StressRecord {
  /** Version of the program that writes the file. */
  version: string;
  /** The public key it is signed by, 64 characters of hex. */
  publicKey: string;
  /** Who made it. */
  by: string;
  /** When, in ISO 8601 with offset. */
  at: string;
  /** Where the values are from, in words: the name of a file, or a run with its lot and part. */
  beforeSource: string;
  afterSource: string;
  of: Stress;
}

/**
 * The comparison of pieces before and after a treatment: the text of its CSV file (see stressFormat.ts) up to its digest
 * row, to be signed and kept as UTF-8.
 * @param tell told of rows as they are written
 * @throws problems of stressResult
 */
export function stressFile(record: StressRecord, tell: TellProgress = TELL_NOBODY): Unsigned {
  const rows = stressRows(record, stressResult(record.of)).map(stressCells);
  return unsigned(counting(rows, { step: 'rows-written', of: rows.length }, tell), STRESS_CLOSED);
}

/** All rows of the file but header, digest and signature, in order. */
export function stressRows(record: StressRecord, result: StressResult): StressRow[] {
  return [
    ...aboutRows(record, result),
    ...ruleRows(),
    ...pieceRows(record.of, result),
    ...summaryRows(result),
    ...result.notes.map((text, index): StressRow => ({ row: 'note', item: String(index + 1), text })),
  ];
}

function aboutRows(
  { version, publicKey, by, at, beforeSource, afterSource }: StressRecord,
  result: StressResult,
): StressRow[] {
  const about = (item: string, text: string): StressRow => ({ row: 'stress', item, text });
  return [
    about('format', STRESS_FORMAT),
    about('program version', version),
    about('key', keyText(publicKey)),
    about('made by', by),
    about('made at', at),
    about('treatment', result.treatment),
    about('limit', result.limitText),
    about('source before', beforeSource),
    about('source after', afterSource),
  ];
}

function ruleRows(): StressRow[] {
  const rule = (item: string, text: string): StressRow => ({ row: 'rule', item, text });
  return [
    rule(
      'limit',
      'In the form of IEC 60115-1: per cent of the first value of the same piece, plus ohms; the limit itself is allowed',
    ),
    rule(
      'sure',
      'No where |ΔR| is within the two expanded uncertainties (k = 2), in root sum of squares, of the limit',
    ),
  ];
}

function pieceRows({ before, after }: Stress, result: StressResult): StressRow[] {
  const compared = new Map(result.pieces.map((piece) => [piece.piece, piece]));
  const lasts = new Map(after.map((value) => [pieceName(value.piece), value]));
  const rows = before.map((first) => {
    const piece = pieceName(first.piece);
    const both = compared.get(piece);
    const last = lasts.get(piece);
    const values: Cells = { piece, ...beforeCells(first), ...(last === undefined ? {} : afterCells(last)) };
    return both
      ? { ...values, ...verdictCells(both) }
      : { ...values, verdict: first.ohms === null ? 'open-before' : 'missing' };
  });
  const extra = result.extra.map((piece): Cells => {
    const last = lasts.get(piece);
    return { piece, ...(last === undefined ? {} : afterCells(last)), verdict: 'extra' };
  });
  return [...rows, ...extra].map((cells, index): StressRow => ({ row: 'piece', item: String(index + 1), ...cells }));
}

type Cells = Omit<StressRow, 'row' | 'item'>;

function beforeCells({ ohms, expandedOhms }: PieceValue): Cells {
  return { before_ohms: ohms ?? OPEN, before_expanded_ohms: expandedOhms ?? '' };
}

function afterCells({ ohms, expandedOhms }: PieceValue): Cells {
  return { after_ohms: ohms ?? OPEN, after_expanded_ohms: expandedOhms ?? '' };
}

function verdictCells({ changeOhms, changePercent, limitOhms, within, uncertain }: StressedPiece): Cells {
  return {
    change_ohms: changeOhms ?? '',
    change_percent: changePercent ?? '',
    limit_ohms: limitOhms,
    verdict: within ? 'within' : 'beyond',
    sure: uncertain === null ? '' : uncertain ? 'no' : 'yes',
  };
}

function summaryRows({
  pieces,
  missing,
  extra,
  openBefore,
  beyond,
  uncertain,
  change,
  words,
}: StressResult): StressRow[] {
  const count = (item: string, of: number): StressRow => ({ row: 'summary', item, pieces: String(of) });
  const percent = (item: string, change_percent: string): StressRow => ({ row: 'summary', item, change_percent });
  return [
    count('compared', pieces.length),
    count('beyond', beyond),
    count('not sure', uncertain),
    count('missing', missing.length),
    count('extra', extra.length),
    count('open before', openBefore.length),
    ...(change === null
      ? []
      : [
          percent('lowest change', change.lowestPercent),
          percent('highest change', change.highestPercent),
          percent('mean change', change.meanPercent),
        ]),
    { row: 'summary', item: 'result', text: words },
  ];
}
