import { readFile } from 'node:fs/promises';
import { checked } from '../../core/contract/invalid.ts';
import { type LotClaim, lotClaim } from '../../core/inspection/lotClaim.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';

/** Reads the JSON file that describes a lot. @throws problems file-unreadable, input-invalid (with file and field) */
export async function readLotFile(file: string): Promise<LotClaim> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (thrown) {
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
  return lotOfText(file, text);
}

/** The lot that a JSON text describes. @throws problem input-invalid, with file and field */
export function lotOfText(file: string, text: string): LotClaim {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (thrown) {
    throw problem('input-invalid', file, `not JSON: ${wordsOf(thrown)}`);
  }
  return checked(file, lotClaim, value);
}
