import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';

/** How far a good piece may be from its nominal value, or the limits themselves. Decimal texts; per cent or ohms. */
export type Tolerance =
  | { kind: 'percent'; plus: DecimalText; minus: DecimalText }
  | { kind: 'ohms'; plus: DecimalText; minus: DecimalText }
  | { kind: 'limits'; lower: DecimalText | null; upper: DecimalText | null };

/** Lowest and highest value a good piece may have, in exact ohms; both limits belong to the window. A null limit is not checked. */
export interface Window {
  nominal: DecimalText | null;
  lower: DecimalText | null;
  upper: DecimalText | null;
}

/**
 * The expected window in exact decimals: 8.2 Ω ±5 % is 7.79 Ω to 8.61 Ω and nothing else.
 * @param nominal ohms, 0 or more; may be null where the limits are given themselves
 * @throws problems window-without-nominal, window-percent-of-zero, tolerance-too-wide, window-upside-down, nominal-outside-window
 */
export function windowOf(nominal: Big | null, tolerance: Tolerance): Window {
  const [lower, upper] = limitsOf(nominal, tolerance);
  if (lower && upper && lower.gte(upper)) throw problem('window-upside-down', plain(lower), plain(upper));
  if (nominal && ((lower && nominal.lt(lower)) || (upper && nominal.gt(upper)))) {
    throw problem('nominal-outside-window', plain(nominal));
  }
  return { nominal: nominal && plain(nominal), lower: lower && plain(lower), upper: upper && plain(upper) };
}

function limitsOf(nominal: Big | null, tolerance: Tolerance): [lower: Big | null, upper: Big | null] {
  if (tolerance.kind === 'limits') {
    const { lower, upper } = tolerance;
    if (lower === null && upper === null) throw problem('tolerance-unreadable', '');
    return [lower === null ? null : new Big(lower), upper === null ? null : new Big(upper)];
  }
  if (nominal === null) throw problem('window-without-nominal');
  const plus = new Big(tolerance.plus);
  const minus = new Big(tolerance.minus);
  if (tolerance.kind === 'ohms') {
    // Around 0 Ω it allows for what a meter shows of nothing; around anything else it would let a short pass.
    if (nominal.gt(0) && minus.gt(nominal)) throw problem('tolerance-too-wide', `${plain(minus)} Ω`);
    return [nominal.minus(minus), nominal.plus(plus)];
  }
  if (nominal.eq(0)) throw problem('window-percent-of-zero');
  if (minus.gt(100)) throw problem('tolerance-too-wide', `${plain(minus)} %`);
  // Times 0.01, not divided by 100: multiplication of decimals is exact.
  return [nominal.minus(nominal.times(minus).times('0.01')), nominal.plus(nominal.times(plus).times('0.01'))];
}

/** Width of a window in ohms; of a one-sided one what its limit is worth. */
export function widthOf({ lower, upper }: Pick<Window, 'lower' | 'upper'>): Big {
  if (lower !== null && upper !== null) return new Big(upper).minus(lower);
  return new Big(upper ?? lower ?? 0).abs();
}

/** Half the width of a window in ohms: the tolerance, as far as one number can say it. */
export function toleranceOhms(window: Pick<Window, 'lower' | 'upper'>): Big {
  return widthOf(window).times('0.5');
}
