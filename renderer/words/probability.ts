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
