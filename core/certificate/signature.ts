import { ed25519 } from '@noble/curves/ed25519.js';
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';

/** Whoever signs: a station. The private half of its key stays where it is. */
export interface Signer {
  /** The public half of its Ed25519 key (RFC 8032, 5.1.5): 32 bytes in lower-case hex. */
  publicKey: string;
  /** The signature (RFC 8032, 5.1.6) of a message: 64 bytes. */
  sign(message: Uint8Array): Uint8Array;
}

/** What stands before the 32 bytes of an Ed25519 key in its SubjectPublicKeyInfo (RFC 8410, 4 and 10.1). */
const PUBLIC_KEY_INFO_BEGINS = '302a300506032b6570032100';

const PUBLIC_KEY = /^[0-9a-f]{64}$/;
const KEY_TEXT = /^([0-9a-f]{64}) ed25519 ([0-9a-f]{64})$/;

/** Keeps these signatures apart from anything else that the same key might ever sign. */
const DOMAIN = 'Reelohm signature 1';

/** Whether a text is a public key as it is written here: 64 characters of lower-case hex. */
export function isPublicKey(text: string): boolean {
  return PUBLIC_KEY.test(text);
}

/** The SubjectPublicKeyInfo of a public key, as a file with `BEGIN PUBLIC KEY` holds it in base64 (RFC 8410, 4). */
export function publicKeyInfo(publicKey: string): Uint8Array {
  return hexToBytes(PUBLIC_KEY_INFO_BEGINS + publicKey);
}

/** The public key in a SubjectPublicKeyInfo; null where that is none of Ed25519. */
export function publicKeyOfInfo(info: Uint8Array): string | null {
  const hex = bytesToHex(info);
  const key = hex.slice(PUBLIC_KEY_INFO_BEGINS.length);
  return hex.startsWith(PUBLIC_KEY_INFO_BEGINS) && isPublicKey(key) ? key : null;
}

/**
 * By what people compare keys: the SHA-256 in hex of the SubjectPublicKeyInfo, which
 * `openssl pkey -pubin -in FILE -outform DER | sha256sum` prints as well.
 */
export function fingerprintOf(publicKey: string): string {
  return bytesToHex(sha256(publicKeyInfo(publicKey)));
}

/** A public key as a file names it: fingerprint, kind and key. */
export function keyText(publicKey: string): string {
  return `${fingerprintOf(publicKey)} ed25519 ${publicKey}`;
}

/** The public key that a file names; null where it names none, or the fingerprint is that of another. */
export function publicKeyIn(text: string): string | null {
  const [, fingerprint, key] = KEY_TEXT.exec(text) ?? [];
  return key !== undefined && fingerprintOf(key) === fingerprint ? key : null;
}

/**
 * What is signed of a file: these three lines in UTF-8, each with its line feed.
 * @param format the name of the file's format
 * @param digest SHA-256 (hex) of all bytes before the digest row
 */
export function signedMessage(format: string, digest: string): Uint8Array {
  return utf8ToBytes(`${DOMAIN}\n${format}\n${digest}\n`);
}

/**
 * Whether a signature is of this message by this key (RFC 8032, 5.1.7, strictly: no other encoding of the same points is
 * taken, as ZIP 215 would).
 * @param signature 128 characters of hex @param publicKey 64 characters of hex
 */
export function isSignedBy(publicKey: string, message: Uint8Array, signature: string): boolean {
  return ed25519.verify(hexToBytes(signature), message, hexToBytes(publicKey), { zip215: false });
}
