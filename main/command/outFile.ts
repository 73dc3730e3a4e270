import { resolve } from 'node:path';
import { checked } from '../../core/contract/invalid.ts';
import { namedText } from '../../core/inspection/lotClaim.ts';
import { problem } from '../../core/problem/problem.ts';
import type { Written } from '../certificates/writeUnderFreeName.ts';
import { writeWhole } from '../certificates/writeWhole.ts';

export interface OutOptions {
  /** File the result is written to. */
  out?: string;
  /** Who made it; stands in the file. */
  by?: string;
}

/**
 * Writes a result where one is wanted; null where not.
 * @param textBy the text of the file, made by this person
 * @throws problem input-invalid where nobody is named, and those of writeWhole
 */
export async function writeOut({ out, by }: OutOptions, textBy: (by: string) => string): Promise<Written | null> {
  if (out === undefined) return null;
  if (by === undefined) throw problem('input-invalid', '--by', 'a result that is written must say who made it');
  const file = resolve(out);
  return { file, sha256: await writeWhole(file, Buffer.from(textBy(checked('--by', namedText, by)))) };
}
