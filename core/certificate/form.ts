/**
 * How numbers and cells are written in a file. `dot` is the file as its format says. `comma` is the same file for spreadsheets
 * with a decimal comma: cells are parted by semicolons, and in the columns that hold numbers the dot is a comma. Nothing else
 * differs, so each can be made from the other, and digest and signature are those of `dot` in both.
 */
export const FORMS = ['dot', 'comma'] as const;
export type Form = (typeof FORMS)[number];

/** What parts the cells of a row. */
export const SEPARATORS: Readonly<Record<Form, string>> = { dot: ',', comma: ';' };

const QUOTES_AND_LINE_ENDS = /["\r\n]/;

/**
 * A row of cells as a line of the file, its CRLF included. Quotes, line ends and what parts cells make a cell need its quotes
 * (RFC 4180, 2.6); no other has them.
 * @param cells as `dot` writes them
 * @param isNumeric of each column, whether it holds numbers
 */
export function lineOf(cells: readonly string[], form: Form, isNumeric: readonly boolean[]): string {
  const separator = SEPARATORS[form];
  const written = form === 'dot' ? cells : cells.map((cell, column) => (isNumeric[column] ? withComma(cell) : cell));
  const line = written.join(separator);
  if (!QUOTES_AND_LINE_ENDS.test(line) && countOf(separator, line) === cells.length - 1) return `${line}\r\n`;
  const quoted = written.map((cell) =>
    cell.includes(separator) || QUOTES_AND_LINE_ENDS.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell,
  );
  return `${quoted.join(separator)}\r\n`;
}

function withComma(cell: string): string {
  return cell.replaceAll('.', ',');
}

function countOf(sought: string, text: string): number {
  let count = 0;
  for (let at = text.indexOf(sought); at >= 0; at = text.indexOf(sought, at + 1)) count++;
  return count;
}

/** The cells of `dot` that a row of the file stands for. */
export function dotCells(cells: readonly string[], form: Form, isNumeric: readonly boolean[]): readonly string[] {
  if (form === 'dot') return cells;
  return cells.map((cell, column) => (isNumeric[column] ? cell.replaceAll(',', '.') : cell));
}
