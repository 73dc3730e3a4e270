/**
 * Free text in a CSV cell must not become a formula when the file is opened in a spreadsheet (OWASP, "CSV Injection").
 * Wherever a cell might begin, text gets an apostrophe more if it goes on with a character that begins a formula
 * (= + - @ and their wide and small forms, the minus sign), with a control character, or with an apostrophe,
 * be it after blanks or quotes. A cell begins at the start of the text, and in spreadsheets set to another separator also
 * after `;`, `|`, tab and line ends, where quotes do not help.
 * Since an apostrophe in such a place is always doubled, taking one off again gives back the very text.
 */
const CELL_BEGINS = String.raw`(?<=^|[;|\p{Cc}\u2028\u2029])`;
const FORMULA_BEGINS = String.raw`(?=\p{Cc}|[\p{Z}\p{C}"]*['=+\-@＝＋－＠﹦﹢﹣﹫−])`;
const UNSAFE = new RegExp(CELL_BEGINS + FORMULA_BEGINS, 'gu');
const GUARD = new RegExp(`${CELL_BEGINS}'`, 'gu');

/** The text as it may stand in a cell. Half surrogate pairs, which UTF-8 cannot hold, become U+FFFD. */
export function safeText(text: string): string {
  return text.toWellFormed().replace(UNSAFE, "'");
}

/** The text that {@link safeText} made this cell from. */
export function plainText(cell: string): string {
  return cell.replace(GUARD, '');
}
