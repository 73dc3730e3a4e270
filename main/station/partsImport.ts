import type { CheckedQuestion } from '../../core/contract/contract.ts';
import { readPartsFile } from '../../core/part/partsFile.ts';
import { type PartsPreview, partsPreview } from '../../core/part/partsPreview.ts';
import { problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { inOrder, type KnownParts, partsText } from './knownParts.ts';

/**
 * What importing a file of parts would do, and the version of the list that it would do it to.
 * @throws problems parts-file-unreadable and of reading the list
 */
export async function previewOf(
  known: KnownParts,
  csv: string,
  tell: TellProgress,
): Promise<PartsPreview & { version: string }> {
  const { byNumber, version } = await known.all();
  return { ...partsPreview(readPartsFile(csv, tell), byNumber), version };
}

/**
 * The list with the good rows of a file that were previewed, or those of them that are named, each in the place of one of the same
 * number: as the text of its file, and how many they are. Nothing is kept yet.
 * @throws problems parts-file-unreadable, parts-changed-meanwhile, parts-too-many, input-invalid where a row that is named is no
 *   good one, and of reading the list
 */
export async function listWith(
  known: KnownParts,
  { csv, version, rows }: CheckedQuestion<'import-parts'>,
  tell: TellProgress,
): Promise<{ text: string; imported: number }> {
  const before = await known.all();
  if (before.version !== version) throw problem('parts-changed-meanwhile');
  const byRow = new Map(readPartsFile(csv, tell).good.map(({ row, part }) => [row, part]));
  const wanted = new Set(rows ?? byRow.keys()); // each once, however often it is named
  const parts = [...wanted].map((row) => {
    const part = byRow.get(row);
    if (!part) throw problem('input-invalid', 'import-parts', `row ${row} is no good row of this file`);
    return part;
  });
  const all = new Map([...before.byNumber, ...parts.map((part) => [part.number, part] as const)]);
  return { text: partsText(inOrder(all)), imported: parts.length };
}
