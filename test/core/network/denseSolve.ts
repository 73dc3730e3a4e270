import type { Branch } from '../../../core/network/circuit.ts';

/**
 * The resistance between two nodes by a way of its own: the reduced matrix of conductances, solved by Gauss with pivots; infinity where the
 * second cannot be reached from the first.
 */
export function denseResistance(branches: readonly Branch[], from: number, to: number): number {
  const reached = new Set([from]);
  for (let before = 0; before !== reached.size; ) {
    before = reached.size;
    for (const branch of branches) {
      if (reached.has(branch.from)) reached.add(branch.to);
      if (reached.has(branch.to)) reached.add(branch.from);
    }
  }
  if (!reached.has(to)) return Number.POSITIVE_INFINITY;
  const rows = [...reached].filter((node) => node !== to);
  const place = new Map(rows.map((node, index) => [node, index]));
  const matrix = rows.map((node) => [...rows.map(() => 0), node === from ? 1 : 0]);
  const add = (node: number, other: number, siemens: number) => {
    const [row, column] = [place.get(node), place.get(other)];
    if (row !== undefined && column !== undefined)
      (matrix[row] as number[])[column] = (matrix[row]?.[column] ?? 0) + siemens;
  };
  for (const { from: a, to: b, ohms } of branches) {
    add(a, a, 1 / ohms);
    add(b, b, 1 / ohms);
    add(a, b, -1 / ohms);
    add(b, a, -1 / ohms);
  }
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(matrix[row]?.[column] ?? 0) > Math.abs(matrix[pivot]?.[column] ?? 0)) pivot = row;
    }
    [matrix[column], matrix[pivot]] = [matrix[pivot] as number[], matrix[column] as number[]];
    const top = matrix[column] as number[];
    for (let row = 0; row < size; row++) {
      if (row === column) continue;
      const times = (matrix[row]?.[column] ?? 0) / (top[column] as number);
      if (times === 0) continue;
      for (let k = column; k <= size; k++)
        (matrix[row] as number[])[k] = (matrix[row]?.[k] ?? 0) - times * (top[k] as number);
    }
  }
  const row = place.get(from) as number;
  return (matrix[row]?.[size] ?? 0) / (matrix[row]?.[row] ?? 1);
}
