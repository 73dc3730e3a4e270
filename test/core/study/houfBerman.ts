import type { CrossedReading } from '../../../core/study/reading.ts';

/**
 * Thermal impedance of 10 power modules, each measured 3 times by 3 operators: Houf and Berman 1988, as printed in Vidakovic,
 * Statistics for Bioengineering Sciences, Example 11.14. One row for each part, its operators one after the other.
 */
const THERMAL_IMPEDANCE = [
  [37, 38, 37, 41, 41, 40, 41, 42, 41],
  [42, 41, 43, 42, 42, 42, 43, 42, 43],
  [30, 31, 31, 31, 31, 31, 29, 30, 28],
  [42, 43, 42, 43, 43, 43, 42, 42, 42],
  [28, 30, 29, 29, 30, 29, 31, 29, 29],
  [42, 42, 43, 45, 45, 45, 44, 46, 45],
  [25, 26, 27, 28, 28, 30, 29, 27, 27],
  [40, 40, 40, 43, 42, 42, 43, 43, 41],
  [25, 25, 25, 27, 29, 28, 26, 26, 26],
  [35, 34, 34, 35, 35, 34, 35, 34, 35],
];

export const houfBerman: readonly CrossedReading[] = readingsFrom(
  THERMAL_IMPEDANCE.map((row) => [row.slice(0, 3), row.slice(3, 6), row.slice(6)]),
);

/** Readings by piece, operator and repeat; operators are A, B, C … */
export function readingsFrom(values: readonly (readonly (readonly (number | string)[])[])[]): CrossedReading[] {
  return values.flatMap((operators, piece) =>
    operators.flatMap((repeats, operator) =>
      repeats.map((ohms, repeat) => ({
        piece: String(piece + 1),
        operator: String.fromCharCode(65 + operator),
        repeat: repeat + 1,
        ohms: String(ohms),
      })),
    ),
  );
}
