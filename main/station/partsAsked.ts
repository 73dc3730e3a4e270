import type { Answers, CheckedQuestion, RequestName } from '../../core/contract/contract.ts';
import { briefly } from '../../core/part/part.ts';
import { partsFile, readPartsFile } from '../../core/part/partsFile.ts';
import { partsPreview } from '../../core/part/partsPreview.ts';
import { problem } from '../../core/problem/problem.ts';
import { now } from './clock.ts';
import type { KnownParts } from './knownParts.ts';

type PartsRequest = Extract<
  RequestName,
  'parts' | 'part' | 'save-part' | 'remove-part' | 'preview-parts' | 'import-parts' | 'export-parts'
>;

type Doing = { [N in PartsRequest]: (question: CheckedQuestion<N>) => Promise<Answers[N]> };

/**
 * What the station answers of its parts list.
 * @param tellChanged told after each change
 * @param writeFile writes a text under a free name
 */
export function partsAsked(
  known: KnownParts,
  tellChanged: () => void,
  writeFile: (name: string, text: string) => Promise<Answers['export-parts']>,
): Doing {
  return {
    parts: async () => [...(await known.all()).byNumber.values()].map(briefly),
    part: async ({ number }) => {
      const found = (await known.all()).byNumber.get(number.normalize('NFC'));
      return { part: found ? briefly(found) : null };
    },
    'save-part': async ({ part, was, over }) => {
      await known.save(part, was ?? null, over);
      tellChanged();
      return {};
    },
    'remove-part': async ({ number }) => {
      await known.remove(number);
      tellChanged();
      return {};
    },
    'preview-parts': async ({ csv }) => {
      const { byNumber, version } = await known.all();
      return { ...partsPreview(readPartsFile(csv), byNumber), version };
    },
    'import-parts': async (asked) => {
      const imported = await importParts(known, asked);
      tellChanged();
      return { imported };
    },
    'export-parts': async () =>
      writeFile(`parts-${now().slice(0, 10)}`, partsFile([...(await known.all()).byNumber.values()])),
  };
}

/**
 * Imports the good rows of a file that were previewed, or those of them that are named.
 * @throws problems parts-file-unreadable, input-invalid where a row that is named is no good one, and of putAll
 */
async function importParts(
  known: KnownParts,
  { csv, version, rows }: CheckedQuestion<'import-parts'>,
): Promise<number> {
  const { good } = readPartsFile(csv);
  const byRow = new Map(good.map(({ row, part }) => [row, part]));
  const wanted = new Set(rows ?? byRow.keys()); // each once, however often it is named
  const parts = [...wanted].map((row) => {
    const part = byRow.get(row);
    if (!part) throw problem('input-invalid', 'import-parts', `row ${row} is no good row of this file`);
    return part;
  });
  await known.putAll(parts, version);
  return parts.length;
}
