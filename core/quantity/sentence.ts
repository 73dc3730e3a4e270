/** A text with a capital first. */
export function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** A clause of core as a sentence by itself: with a capital first and one full stop at the end. */
export function sentence(clause: string): string {
  return `${capital(clause).replace(/\.$/, '')}.`;
}
