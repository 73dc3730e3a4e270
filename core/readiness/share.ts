import type Big from 'big.js';

/** Most of the tolerance that what adds to readings may be: the rule of ten (common practice). */
const LARGEST_SHARE = '0.1';

/** Whether so many ohms are more than a tenth of the tolerance. */
export function isTooMuch(ohms: Big, toleranceOhms: Big): boolean {
  return ohms.abs().gt(toleranceOhms.times(LARGEST_SHARE));
}

/** How much of the tolerance so many ohms are, in words like `45 %`; rounded, from 10 % up to whole per cents. */
export function shareOf(ohms: Big, toleranceOhms: Big): string {
  if (toleranceOhms.eq(0)) return 'all';
  const percent = ohms.abs().div(toleranceOhms).times(100);
  return `${percent.round(percent.gte(10) ? 0 : 1).toFixed()} %`;
}
