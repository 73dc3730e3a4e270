// The language itself has no decoder, but every engine that core runs in does; core has no types of Node or of a browser.
declare const TextDecoder: new (
  label: string,
  options: { ignoreBOM: boolean },
) => { decode(bytes: Uint8Array): string };

const decoder = new TextDecoder('utf-8', { ignoreBOM: true });

/** The text that bytes in UTF-8 stand for, a byte order mark included; what is no UTF-8 becomes U+FFFD. */
export function textOf(bytes: Uint8Array): string {
  return decoder.decode(bytes);
}
