import type { Entry } from '../../core/contract/contract.ts';
import type { OpenedRun } from '../../core/contract/openRun.ts';
import { apply } from '../../core/inspection/apply.ts';
import type { Run } from '../../core/inspection/run.ts';

/** A run as this screen holds it: what its entries made, and up to which entry. */
export interface HeldRun {
  run: Run | null;
  /** Place in the record of the last entry that is folded in; 0 before the first. */
  position: number;
  /** News that came before the run was there. */
  early: readonly Entry[];
  /** The line was down since: entries may be missing, so nothing is folded in before the run was opened again. */
  behind: boolean;
}

export const NOTHING_HELD: HeldRun = { run: null, position: 0, early: [], behind: false };

/** The run as the station has it, and what was told of it meanwhile. */
export function holdOpened({ early }: HeldRun, { run, position }: OpenedRun): HeldRun {
  return foldIn({ run, position, early: [], behind: false }, early);
}

/** One more entry of the run. Entries come in order, but may come twice: told as an answer and as news. */
export function holdOne(held: HeldRun, entry: Entry): HeldRun {
  if (held.run === null || held.behind) return { ...held, early: [...held.early, entry] };
  return foldIn(held, [entry]);
}

function foldIn(held: HeldRun, entries: readonly Entry[]): HeldRun {
  let { run, position } = held;
  for (const entry of entries.toSorted((a, b) => a.position - b.position)) {
    if (entry.position <= position) continue;
    run = apply(run, entry.event);
    position = entry.position;
  }
  return { run, position, early: [], behind: false };
}
