import type Big from 'big.js';
import { type DecimalText, decimalsOf, plain } from './decimal.ts';

/** So much for each of a size, and so much besides, in exact decimals: slope · |x| + offset. */
export interface LinearInSize {
  slope: Big;
  offset: Big;
  /** Of whole numbers of their last digits; null where a double does not hold them, or one is below 0. */
  whole: { slope: number; slopeDecimals: number; offset: number; offsetDecimals: number } | null;
}

/** Up to here a double holds every whole number exactly. */
const MOST = Number.MAX_SAFE_INTEGER;
/** The powers of ten that a double holds exactly. */
const POWERS = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

/** The line of a slope and an offset. */
export function linearInSize(slope: Big, offset: Big): LinearInSize {
  if (slope.lt(0) || offset.lt(0)) return { slope, offset, whole: null };
  const [slopeText, offsetText] = [plain(slope), plain(offset)];
  const whole = {
    slope: digitsOf(slopeText),
    slopeDecimals: decimalsOf(slopeText),
    offset: digitsOf(offsetText),
    offsetDecimals: decimalsOf(offsetText),
  };
  return { slope, offset, whole: whole.slope <= MOST && whole.offset <= MOST ? whole : null };
}

/**
 * The double nearest to slope · |x| + offset, worked out in whole numbers of a last digit that a double holds exactly; null where
 * that does not do. A quotient of two exact numbers is rounded once, as the text of the exact decimal is when it is read.
 */
export function nearestDouble({ whole }: LinearInSize, x: DecimalText): number | null {
  if (whole === null) return null;
  const decimals = decimalsOf(x) + whole.slopeDecimals;
  const least = Math.max(decimals, whole.offsetDecimals);
  const [power, up, upOfOffset] = [POWERS[least], POWERS[least - decimals], POWERS[least - whole.offsetDecimals]];
  if (power === undefined || up === undefined || upOfOffset === undefined) return null;
  const size = digitsOf(x);
  const [times, besides] = [size * whole.slope * up, whole.offset * upOfOffset];
  const sum = times + besides;
  // Each product that is no larger is exact; one too large for a double stays so, whatever is rounded of it.
  return size <= MOST && size * whole.slope <= MOST && sum <= MOST ? sum / power : null;
}

/** The digits of a decimal as one whole number, without its sign. */
function digitsOf(text: DecimalText): number {
  return Math.abs(Number(text.replace('.', '')));
}
