import { utf8ToBytes } from '@noble/hashes/utils.js';
import type { Run } from '../inspection/run.ts';
import { problem } from '../problem/problem.ts';
import { CERTIFICATE } from './certificateFormat.ts';
import { closingOf } from './closedFile.ts';
import { meantBy } from './csv.ts';
import { csvRows } from './csvRows.ts';
import { inMemory } from './fileBytes.ts';
import { dotCells, FORMS, type Form, SEPARATORS } from './form.ts';
import { COLUMNS, type Row } from './format.ts';
import { PaperReadings, type ReadingsOnPaper } from './paperReadings.ts';
import { readRun } from './readRun.ts';
import { RowReader } from './rowReader.ts';
import type { About } from './rowsOf.ts';

/** A row of a certificate and how many readings stand before it. */
export interface PaperRow {
  row: Row;
  afterReading: number;
}

/** All that a printed certificate says: the rows of its file as they stand there, and the run they are of. */
export interface CertificatePaper {
  /** All rows but readings, header, digest and signature, in the order of the file. */
  rows: readonly PaperRow[];
  readings: ReadingsOnPaper;
  /** The run as the file has it, decided. What happened after it was written is not in it. */
  run: Run;
  about: About;
  /** SHA-256 (hex) of all bytes before the digest row, of the form `dot`. */
  digest: string;
  /** Ed25519 signature in hex. */
  signature: string;
}

/**
 * What a certificate is printed from: the very rows of its file, so that paper and file cannot differ. Whether the file is the one
 * that was written is for the caller to check; that its rows are of a run that can have gone this way is checked here.
 * @param text the whole of the file
 * @throws problem certificate-broken
 */
export function paperOf(text: string): CertificatePaper {
  const file = inMemory(utf8ToBytes(text));
  const form = formOf(text);
  const closing = closingOf(file, CERTIFICATE, form);
  if (closing === null || closing.signature === null) {
    throw problem('certificate-broken', 'its end', 'digest and signature do not stand there');
  }
  const rows: PaperRow[] = [];
  const readings = new PaperReadings();
  function* noted(): Generator<readonly string[]> {
    let isHeader = true;
    for (const cells of csvRows(file, 0, closing?.bodySize ?? 0, SEPARATORS[form])) {
      if (isHeader) isHeader = false;
      else {
        const dotted = dotCells(cells, form, CERTIFICATE.isNumeric);
        const row = rowOf(dotted);
        if (row.row === 'reading') readings.add(row);
        else rows.push({ row, afterReading: readings.of });
        yield dotted;
      }
    }
  }
  const { run, decided, about } = readRun(new RowReader(noted()));
  const { digest, signature } = closing;
  return { rows, readings: readings.printed(), run: { ...run, decided }, about, digest, signature };
}

/** By what parts the names of the columns. */
function formOf(text: string): Form {
  return FORMS.find((form) => text.startsWith(`${COLUMNS[0]}${SEPARATORS[form]}`)) ?? 'dot';
}

/** A row as it was meant; empty cells are left out. */
function rowOf(cells: readonly string[]): Row {
  const filled = COLUMNS.flatMap((column, place) => {
    const cell = cells[place] ?? '';
    return cell === '' ? [] : [[column, meantBy(column, cell)] as const];
  });
  return Object.fromEntries(filled) as unknown as Row;
}
