/** A clause of core as a sentence by itself: with a capital first and one full stop at the end. */
export function sentence(clause: string): string {
  return `${clause.charAt(0).toUpperCase()}${clause.slice(1).replace(/\.$/, '')}.`;
}
