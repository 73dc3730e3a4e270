import { sharedTable } from '../sampling/sharedTable.ts';

/** Readings of a NIST Statistical Reference Dataset; null where the shared folder is absent, which is said aloud. */
export function strdReadings(dataset: string): number[] | null {
  const rows = sharedTable('strd-univariate.csv');
  if (rows === null) return null;
  return rows.filter((row) => row.dataset === dataset).map((row) => Number(row.y));
}

/**
 * Datasets of NIST StRD univariate that are made by a rule, with their certified values: NumAcc1 to 4. Each of the last
 * three begins with its middle value; then 500 times one below and one above.
 */
export function numAcc(which: 1 | 2 | 3 | 4): number[] {
  if (which === 1) return [10000001, 10000003, 10000002];
  const [middle, low, high] = {
    2: [1.2, 1.1, 1.3],
    3: [1000000.2, 1000000.1, 1000000.3],
    4: [10000000.2, 10000000.1, 10000000.3],
  }[which] as [number, number, number];
  return [middle, ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? low : high))];
}

/** Where the dataset has a 3 though π has an 8; its certified values are those of the dataset. */
const ODD_DIGIT = 956;

/** The 5000 readings of StRD PiDigits: the first digits of π, 3 first, but for one. By Machin: π/4 = 4·atan(1/5) - atan(1/239). */
export function piDigits(): number[] {
  // Twenty digits more than wanted, for the terms cut off.
  const one = 10n ** 5019n;
  const inverseTangent = (of: bigint) => {
    let [sum, power, sign] = [0n, one / of, 1n];
    for (let odd = 1n; power > 0n; odd += 2n) {
      sum += (sign * power) / odd;
      power /= of * of;
      sign = -sign;
    }
    return sum;
  };
  const pi = 4n * (4n * inverseTangent(5n) - inverseTangent(239n));
  const digits = [...String(pi).slice(0, 5000)].map(Number);
  digits[ODD_DIGIT] = 3;
  return digits;
}
