/**
 * A probability as it is said, two significant figures: `12 %`, `2.3 %`, `0.16 %`; below a hundredth of a per cent `less than 0.01 %`.
 * @param share 0 to 1
 */
export function probabilityText(share: number): string {
  const percent = share * 100;
  if (percent === 0) return '0\u00a0%';
  if (percent < 0.01) return 'less than 0.01\u00a0%';
  return `${Number(percent.toPrecision(2))}\u00a0%`;
}

/** A share of which there is so much at least, like `94.8 %`: rounded down, so that it never says more than was found. */
export function atLeastText(share: number): string {
  return `${Number((Math.floor(share * 1000) / 10).toFixed(1))}\u00a0%`;
}
