import type { Sha256 } from './sha256.ts';

/** The bytes of a file, wherever they lie: a file of any length is read piece by piece. */
export interface FileBytes {
  readonly size: number;
  /** The bytes at places from `from` to before `to`, both inside the file. Whoever asks does not change them, and is done with them before asking again. */
  slice(from: number, to: number): Uint8Array;
  /** Begins a SHA-256, where whoever has the file has a quick one. */
  readonly sha256?: () => Sha256;
}

/** Bytes that are in memory already. */
export function inMemory(bytes: Uint8Array): FileBytes {
  return { size: bytes.length, slice: (from, to) => bytes.subarray(from, to) };
}

/** So many bytes are looked at in one go. */
export const BLOCK = 65_536;

/** The bytes at places from `from` to before `to`, block by block. */
export function* blocksOf(file: FileBytes, from: number, to: number): Generator<Uint8Array> {
  for (let at = from; at < to; at += BLOCK) yield file.slice(at, Math.min(to, at + BLOCK));
}
