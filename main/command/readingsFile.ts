import { givenTable } from '../../core/certificate/givenTable.ts';
import { problem } from '../../core/problem/problem.ts';
import { meterNumber } from '../../core/quantity/meterNumber.ts';

/** The column `ohms` of a CSV file. */
export interface ReadingsOfFile {
  /** In the order of the file. */
  ohms: number[];
  /** Rows without a value: an empty cell, `open`, or a meter's overload. */
  without: number;
}

/**
 * Reads the column `ohms` of a CSV file (RFC 4180, UTF-8; plain line feeds are taken too): plain numbers in ohms, with or
 * without exponent and with a decimal dot. Other columns are left alone.
 * @throws problem input-invalid, naming the file and the row (the header being row 1)
 */
export function readReadings(file: string, bytes: Uint8Array): ReadingsOfFile {
  const { columns, rows } = givenTable(bytes, (_, why) =>
    problem('input-invalid', file, `it is no CSV of equal rows: ${why}`),
  );
  const column = columns.indexOf('ohms');
  if (column < 0) throw problem('input-invalid', `${file}, row 1`, 'there is no column "ohms"');
  const ohms: number[] = [];
  let without = 0;
  for (const [index, row] of rows.entries()) {
    const cell = (row[column] ?? '').trim();
    const number = /^(open)?$/i.test(cell) ? { kind: 'overload' as const } : meterNumber(cell);
    if (number === null || number.kind === 'not-a-number') {
      throw problem('input-invalid', `${file}, row ${index + 2}`, `"${cell.slice(0, 40)}" is not a number of ohms`);
    }
    if (number.kind === 'value') ohms.push(Number(number.text));
    else without += 1;
  }
  return { ohms, without };
}
