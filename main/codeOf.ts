/** The code by which the system or SQLite names a failure, like `EEXIST` or `SQLITE_FULL`. */
export function codeOf(thrown: unknown): string | undefined {
  return thrown instanceof Error && 'code' in thrown ? String(thrown.code) : undefined;
}
