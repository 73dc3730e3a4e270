import type { Answers } from '../../core/contract/contract.ts';
import { counted } from '../words/count.ts';

export type Preview = Answers['preview-parts'];

/** The most bytes of a file of parts; the station takes no more characters either. */
export const MOST_PARTS_BYTES = 10_000_000;

/** The rows that would be imported; all good ones but those that say what is known already. */
export function rowsToImport({ added, replaced }: Preview, replaces: boolean): number[] {
  return [...added, ...(replaces ? replaced : [])].map(({ row }) => row);
}

/** How many rows are wrong; a row may be wrong in several columns. */
export function badRows({ bad }: Preview): number {
  return new Set(bad.map(({ row }) => row)).size;
}

/** What the file holds, in a sentence. */
export function previewWords(preview: Preview): string {
  const { added, replaced, same } = preview;
  const bad = badRows(preview);
  const says = [
    added.length > 0 && counted(added.length, 'new part', 'new parts'),
    replaced.length > 0 && counted(replaced.length, 'part that replaces one', 'parts that replace one'),
    same > 0 && `${counted(same, 'part', 'parts')} as the list has ${same === 1 ? 'it' : 'them'} already`,
    bad > 0 && counted(bad, 'row that is wrong', 'rows that are wrong'),
  ].filter((words) => words !== false);
  const last = says.pop() ?? 'nothing';
  return `The file holds ${says.length > 0 ? `${says.join(', ')} and ${last}` : last}.`;
}

/** What the button does. */
export function importWords({ added, replaced }: Preview, replaces: boolean): string {
  const put = replaces ? replaced.length : 0;
  if (put === 0) return added.length === 0 ? 'Nothing to import' : `Import ${counted(added.length, 'part', 'parts')}`;
  if (added.length === 0) return `Replace ${counted(put, 'part', 'parts')}`;
  return `Import ${counted(added.length, 'part', 'parts')} and replace ${counted(put, 'other', 'others')}`;
}
