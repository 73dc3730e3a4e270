import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';

/** A SHA-256 (FIPS 180-4) of bytes that come one piece after the other. */
export interface Sha256 {
  update(bytes: Uint8Array): void;
  /** The same so far, to go on apart from this one. */
  copy(): Sha256;
  /** Of all bytes, 64 characters of hex. Nothing is added after that. */
  hex(): string;
}

/** Where the platform has none of its own, which is ten times as quick. */
export function sha256Anywhere(hash = sha256.create()): Sha256 {
  return {
    update: (bytes) => void hash.update(bytes),
    copy: () => sha256Anywhere(hash.clone()),
    hex: () => bytesToHex(hash.digest()),
  };
}
