/**
 * A sum of two doubles, the second being what the rounding of the first left over: about 32 digits.
 * Source: Dekker, A floating-point technique for extending the available precision, Numerische Mathematik 18 (1971).
 */
export class DoubleDouble {
  high = 0;
  low = 0;

  add(value: number): void {
    const sum = this.high + value;
    const part = sum - this.high;
    this.low += this.high - (sum - part) + (value - part);
    this.high = sum;
  }

  addSquare(value: number): void {
    const square = value * value;
    this.add(square);
    this.low += squareError(value, square);
  }

  get value(): number {
    return this.high + this.low;
  }

  /** This - other²/n, without losing what is left when the two are nearly equal. */
  lessSquareOver(other: DoubleDouble, n: number): number {
    // With other = n·mean + rest, other²/n is n·mean² + 2·mean·rest, and rest²/n is too small to count.
    const mean = other.value / n;
    const total = n * mean;
    const totalError = productError(n, mean, total);
    const rest = other.high - total - totalError + other.low;
    const square = total * mean;
    const squareLow = productError(total, mean, square) + mean * totalError + 2 * mean * rest;
    return this.high - square + (this.low - squareLow);
  }
}

const SPLITTER = 2 ** 27 + 1;

/** What the rounding of a·b to product left over, exactly. */
function productError(a: number, b: number, product: number): number {
  const aBig = SPLITTER * a;
  const aHigh = aBig - (aBig - a);
  const aLow = a - aHigh;
  const bBig = SPLITTER * b;
  const bHigh = bBig - (bBig - b);
  const bLow = b - bHigh;
  return aLow * bLow - (product - aHigh * bHigh - aLow * bHigh - aHigh * bLow);
}

function squareError(a: number, square: number): number {
  const big = SPLITTER * a;
  const high = big - (big - a);
  const low = a - high;
  return low * low - (square - high * high - 2 * high * low);
}
