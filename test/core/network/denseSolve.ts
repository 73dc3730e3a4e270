import type { Branch } from '../../../core/network/circuit.ts';

/** A fraction, its denominator above 0. */
type Fraction = readonly [bigint, bigint];

const ZERO: Fraction = [0n, 1n];

function reduced(numerator: bigint, denominator: bigint): Fraction {
  let [a, b] = [numerator < 0n ? -numerator : numerator, denominator < 0n ? -denominator : denominator];
  while (b !== 0n) [a, b] = [b, a % b];
  const sign = denominator < 0n ? -1n : 1n;
  return a === 0n ? ZERO : [(sign * numerator) / a, (sign * denominator) / a];
}

const plus = (a: Fraction, b: Fraction) => reduced(a[0] * b[1] + b[0] * a[1], a[1] * b[1]);
const times = (a: Fraction, b: Fraction) => reduced(a[0] * b[0], a[1] * b[1]);
const over = (a: Fraction, b: Fraction) => reduced(a[0] * b[1], a[1] * b[0]);

/**
 * The resistance between two nodes by a way of its own: the dense matrix of conductances, solved by Gauss in whole fractions; infinity where
 * the second cannot be reached from the first.
 * @param branches of whole ohms
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
  const size = rows.length;
  const matrix: Fraction[][] = rows.map((node) => [...rows.map(() => ZERO), node === from ? [1n, 1n] : ZERO]);
  const cell = (row: number, column: number) => matrix[row]?.[column] ?? ZERO;
  const put = (row: number, column: number, value: Fraction) => {
    (matrix[row] as Fraction[])[column] = value;
  };
  const add = (node: number, other: number, siemens: Fraction) => {
    const [row, column] = [place.get(node), place.get(other)];
    if (row !== undefined && column !== undefined) put(row, column, plus(cell(row, column), siemens));
  };
  for (const { from: a, to: b, ohms } of branches) {
    const whole = BigInt(ohms);
    for (const node of [a, b]) add(node, node, [1n, whole]);
    add(a, b, [-1n, whole]);
    add(b, a, [-1n, whole]);
  }
  for (let column = 0; column < size; column++) {
    // A matrix of conductances needs no pivots.
    for (let row = 0; row < size; row++) {
      if (row === column) continue;
      const factor = over(cell(row, column), cell(column, column));
      if (factor[0] === 0n) continue;
      const less: Fraction = [-factor[0], factor[1]];
      for (let k = column; k <= size; k++) put(row, k, plus(cell(row, k), times(less, cell(column, k))));
    }
  }
  const row = place.get(from) as number;
  const [numerator, denominator] = over(cell(row, size), cell(row, row));
  // To 25 digits, whatever the size of the two.
  const scale = 10n ** 25n;
  return Number((numerator * scale) / denominator) / 1e25;
}
