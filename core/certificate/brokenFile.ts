import { Problem, type ProblemText } from '../problem/problem.ts';

/** The problem of a file that does not hold, with the row (the header is 1) and the column where that shows first, where known. */
export class BrokenFile extends Problem {
  readonly row: number | null;
  readonly column: string | null;

  constructor(problem: ProblemText, row: number | null, column: string | null = null) {
    super(problem);
    this.row = row;
    this.column = column;
  }

  override toJSON(): ProblemText & { row: number | null; column: string | null } {
    return { ...super.toJSON(), row: this.row, column: this.column };
  }
}

/** The problem of a row. @param broken makes the problem of its kind of file */
export function brokenRow(
  broken: (where: string, why: string) => Problem,
  row: number,
  why: string,
  column: string | null = null,
): BrokenFile {
  return new BrokenFile(broken(`row ${row}`, why), row, column);
}
