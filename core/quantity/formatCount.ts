/** A whole number in groups of three, like `5 000`; the space does not break. */
export function formatCount(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, '\u00a0');
}

/** `1 piece`, `2 pieces`: a count with its noun. */
export function counted(count: number, one: string, many: string): string {
  return `${formatCount(count)}\u00a0${count === 1 ? one : many}`;
}
