/** A whole number in groups of three, like `5 000`; the space does not break. */
export function formatCount(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, '\u00a0');
}
