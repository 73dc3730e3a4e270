/** The column itself where it has a place at `place`, else a copy of twice its length: adding costs a constant on average. */
export function grown<C extends Float64Array<ArrayBuffer> | Uint32Array<ArrayBuffer>>(column: C, place: number): C {
  if (place < column.length) return column;
  const longer =
    column instanceof Float64Array ? new Float64Array(2 * column.length) : new Uint32Array(2 * column.length);
  longer.set(column);
  return longer as C;
}
