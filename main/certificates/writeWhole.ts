import { dirname } from 'node:path';
import { Problem, problem } from '../../core/problem/problem.ts';
import { FileBeingWritten } from './fileBeingWritten.ts';

/**
 * Writes a new file whole or not at all. Returns the SHA-256 (hex) of its bytes.
 * @throws problems certificate-exists, certificate-unwritable
 */
export async function writeWhole(file: string, bytes: Uint8Array): Promise<string> {
  const written = await FileBeingWritten.begin(dirname(file)).catch((thrown: unknown) => {
    throw thrown instanceof Problem ? problem('certificate-unwritable', file, thrown.what) : thrown;
  });
  try {
    written.put(bytes);
    const sha256 = await written.finish();
    await written.name(file);
    return sha256;
  } finally {
    await written.end();
  }
}
