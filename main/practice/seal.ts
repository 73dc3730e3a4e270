import { createCipheriv, createDecipheriv, createHash, randomBytes } from 'node:crypto';
import { type ExerciseTruth, exerciseTruth, type OpenExercise } from '../../core/practice/exercise.ts';

/**
 * The seal keeps what is true from the eye, not from somebody who takes this program apart: the program must be able to open it on any
 * computer, so its key is here for everybody to read.
 */
const KEY = createHash('sha256').update('reelohm: what is true of an exercise, 1').digest();
const CIPHER = 'aes-256-gcm';
const [NONCE_BYTES, TAG_BYTES] = [12, 16];

/** SHA-256 (hex) of a whole exercise, what is open and what is true: instructor and class know by it that all had the same. */
export function digestOf(open: OpenExercise, truth: ExerciseTruth): string {
  return createHash('sha256')
    .update(JSON.stringify([open, truth]))
    .digest('hex');
}

/** What is true, sealed together with what is open, and the digest of both. */
export function seal(open: OpenExercise, truth: ExerciseTruth): { sealed: string; digest: string } {
  const nonce = randomBytes(NONCE_BYTES);
  const cipher = createCipheriv(CIPHER, KEY, nonce);
  const body = Buffer.concat([cipher.update(JSON.stringify(truth), 'utf8'), cipher.final()]);
  const sealed = Buffer.concat([nonce, cipher.getAuthTag(), body]).toString('base64');
  return { sealed, digest: digestOf(open, truth) };
}

/** What was sealed; null where anything of the exercise was changed since. */
export function unseal(
  open: OpenExercise,
  { sealed, digest }: { sealed: string; digest: string },
): ExerciseTruth | null {
  try {
    const bytes = Buffer.from(sealed, 'base64');
    const decipher = createDecipheriv(CIPHER, KEY, bytes.subarray(0, NONCE_BYTES));
    decipher.setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES));
    const body = bytes.subarray(NONCE_BYTES + TAG_BYTES);
    const text = Buffer.concat([decipher.update(body), decipher.final()]).toString('utf8');
    const truth = exerciseTruth.parse(JSON.parse(text));
    return digestOf(open, truth) === digest ? truth : null;
  } catch {
    // Whatever is wrong with it, it is not what was sealed.
    return null;
  }
}
