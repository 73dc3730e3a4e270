import { createCipheriv, createDecipheriv, createHash, randomBytes } from 'node:crypto';
import { type ExerciseTruth, exerciseTruth } from '../../core/practice/exercise.ts';

/**
 * The seal keeps what is true from the eye, not from somebody who takes this program apart: the program must be able to open it on any
 * computer, so its key is here for everybody to read.
 */
const KEY = createHash('sha256').update('reelohm: what is true of an exercise, 1').digest();
const CIPHER = 'aes-256-gcm';
const [NONCE_BYTES, TAG_BYTES] = [12, 16];

/** What is true as text, always the same of the same: by its digest instructor and class know that it was not changed. */
function textOf(truth: ExerciseTruth): string {
  return JSON.stringify(exerciseTruth.parse(truth));
}

/** SHA-256 (hex) of what is true. */
export function digestOf(truth: ExerciseTruth): string {
  return createHash('sha256').update(textOf(truth)).digest('hex');
}

/** What is true, sealed, with its digest. */
export function seal(truth: ExerciseTruth): { sealed: string; truthDigest: string } {
  const nonce = randomBytes(NONCE_BYTES);
  const cipher = createCipheriv(CIPHER, KEY, nonce);
  const body = Buffer.concat([cipher.update(textOf(truth), 'utf8'), cipher.final()]);
  return { sealed: Buffer.concat([nonce, cipher.getAuthTag(), body]).toString('base64'), truthDigest: digestOf(truth) };
}

/** What was sealed; null where the seal or the digest beside it was changed. */
export function unseal({ sealed, truthDigest }: { sealed: string; truthDigest: string }): ExerciseTruth | null {
  try {
    const bytes = Buffer.from(sealed, 'base64');
    const decipher = createDecipheriv(CIPHER, KEY, bytes.subarray(0, NONCE_BYTES));
    decipher.setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES));
    const body = bytes.subarray(NONCE_BYTES + TAG_BYTES);
    const text = Buffer.concat([decipher.update(body), decipher.final()]).toString('utf8');
    const truth = exerciseTruth.parse(JSON.parse(text));
    return digestOf(truth) === truthDigest ? truth : null;
  } catch {
    return null;
  }
}
