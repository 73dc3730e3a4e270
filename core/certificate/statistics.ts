import Big from 'big.js';
import { compareDecimals, type DecimalText, decimalsOf, shift } from '../quantity/decimal.ts';

export interface Statistics {
  lowest: DecimalText;
  highest: DecimalText;
  mean: DecimalText;
  /** Decimals the mean is rounded to. */
  decimals: number;
}

/**
 * Lowest, highest and mean of readings in ohms; null where there is none. Exact decimals; only the mean is rounded, half
 * to even, to two decimals more than the reading with most of them.
 */
export function statisticsOf(ohms: Iterable<DecimalText>): Statistics | null {
  let lowest: DecimalText | null = null;
  let highest: DecimalText | null = null;
  const sum = new ExactSum();
  let count = 0;
  for (const text of ohms) {
    sum.add(text);
    count++;
    if (lowest === null || compareDecimals(text, lowest) < 0) lowest = text;
    if (highest === null || compareDecimals(text, highest) > 0) highest = text;
  }
  if (lowest === null || highest === null) return null;
  const decimals = sum.finest + 2;
  // A constructor of our own, since big.js divides to the decimals set on the constructor of the dividend.
  const Rounding = Big();
  Rounding.DP = decimals;
  Rounding.RM = 2;
  const mean = new Rounding(sum.total).div(count).toFixed(decimals);
  return { lowest, highest, mean, decimals };
}

/** A value of so few characters is a whole number of its last digit far below {@link MOST}. */
const FEW_CHARACTERS = 13;
/** Up to here a double holds whole numbers exactly, and one more of those values. */
const MOST = 2 ** 52;

/** A sum of exact decimals: those of as many decimals each are added as whole numbers for as long as a double holds them exactly. */
class ExactSum {
  #total = new Big(0);
  readonly #whole = new Map<number, number>();
  finest = 0;

  add(text: DecimalText): void {
    const decimals = decimalsOf(text);
    this.finest = Math.max(this.finest, decimals);
    if (text.length > FEW_CHARACTERS) {
      this.#total = this.#total.plus(text);
      return;
    }
    const whole = (this.#whole.get(decimals) ?? 0) + Number(text.replace('.', ''));
    if (Math.abs(whole) < MOST) this.#whole.set(decimals, whole);
    else {
      this.#total = this.#total.plus(shift(new Big(whole), -decimals));
      this.#whole.set(decimals, 0);
    }
  }

  get total(): Big {
    let total = this.#total;
    for (const [decimals, whole] of this.#whole) total = total.plus(shift(new Big(whole), -decimals));
    return total;
  }
}
