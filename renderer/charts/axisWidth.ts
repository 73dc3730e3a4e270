/** Room for the longest figure beside an axis, in pixels; text grows with the screen, and a digit is 0.6 of its height. */
export function axisWidth(texts: readonly string[]): number {
  const small = 0.875 * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  return Math.ceil((Math.max(6, ...texts.map((text) => text.length)) * 0.6 + 1) * small) + 8;
}
