import type { Part } from './part.ts';
import { PART_COLUMNS, textIn } from './partColumns.ts';
import type { BadCell, PartsRead } from './partsFile.ts';

/** A column whose value changes when a part is replaced; empty is as in the receiving form. */
export interface PartChange {
  column: string;
  before: string;
  after: string;
}

/** What importing a file of parts would do. */
export interface PartsPreview {
  /** Good rows of parts that are not known yet. */
  added: readonly { row: number; number: string; nominal: string; tolerance: string }[];
  /** Good rows of parts that are known and would change. */
  replaced: readonly { row: number; number: string; changes: readonly PartChange[] }[];
  /** Those of them whose value is no preferred number, and what is odd about it. It keeps no row back. */
  odd: readonly { row: number; number: string; why: string }[];
  /** How many good rows say what is known already. */
  same: number;
  bad: readonly BadCell[];
  unread: readonly string[];
}

/** What importing a file of parts into those that are known would do. */
export function partsPreview(read: PartsRead, known: ReadonlyMap<string, Part>): PartsPreview {
  const added: { row: number; number: string; nominal: string; tolerance: string }[] = [];
  const replaced: { row: number; number: string; changes: PartChange[] }[] = [];
  const odd: { row: number; number: string; why: string }[] = [];
  let same = 0;
  for (const { row, part, odd: why } of read.good) {
    const { number, nominal, tolerance } = part;
    const before = known.get(number);
    const changes = before ? changesOf(before, part) : null;
    if (changes?.length === 0) {
      same += 1;
      continue;
    }
    if (changes) replaced.push({ row, number, changes });
    else added.push({ row, number, nominal, tolerance });
    if (why !== null) odd.push({ row, number, why });
  }
  return { added, replaced, odd, same, bad: read.bad, unread: read.unread };
}

/** In which columns two parts differ. */
export function changesOf(before: Part, after: Part): PartChange[] {
  return PART_COLUMNS.flatMap((column) => {
    const [was, is] = [textIn(column, before), textIn(column, after)];
    return was === is ? [] : [{ column: column.name, before: was, after: is }];
  });
}
