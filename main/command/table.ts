/**
 * Rows of cells as lines whose columns stand below each other. The first is set to the left, the others to the side of their
 * kind: figures to the right, words to the left.
 */
export function tableLines(rows: readonly (readonly string[])[], others: 'left' | 'right' = 'right'): string[] {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [column, cell] of row.entries()) widths[column] = Math.max(widths[column] ?? 0, cell.length);
  }
  const set = (cell: string, column: number): string => {
    const width = widths[column] ?? 0;
    return column === 0 || others === 'left' ? cell.padEnd(width) : cell.padStart(width);
  };
  return rows.map((row) => row.map(set).join('  ').trimEnd());
}
