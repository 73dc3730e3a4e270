const [CR, LF] = [13, 10];

/** CSV as somebody else's program wrote it, with line ends as RFC 4180 has them, without byte order mark and without empty lines at the end. */
export function tidyCsv(bytes: Uint8Array): Uint8Array {
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  let end = bytes.length;
  while (end > start && (bytes[end - 1] === CR || bytes[end - 1] === LF)) end -= 1;
  const tidy: number[] = [];
  for (let place = start; place < end; place += 1) {
    const byte = bytes[place] as number;
    if (byte === LF && bytes[place - 1] !== CR) tidy.push(CR);
    tidy.push(byte);
  }
  return Uint8Array.from(tidy);
}
