import type { Entry } from '../../../core/contract/contract.ts';
import { CHAIN_START } from '../../../main/record/hashChain.ts';
import type { Record } from '../../../main/record/record.ts';
import type { RunRow } from '../../../main/record/runRow.ts';
import type { RunRows } from '../../../main/record/runRows.ts';
import { isOfInspection } from '../../../main/station/foldOne.ts';

/** A record in memory: what is measured is the screen, and keeping a million entries on a disk takes its time. */
export function recordInMemory(entries: Entry[]): Record {
  const rows = new Map<number, RunRow>();
  const extents = new Map<number, { last: number; count: number }>();
  const note = ({ run, position }: Entry) =>
    extents.set(run, { last: position, count: (extents.get(run)?.count ?? 0) + 1 });
  entries.forEach(note);
  const append: Record['append'] = (run, events, row = null) => {
    const added = events.map((event) => {
      const entry = { position: entries.length + 1, run, event, previous: '', hash: '' };
      if (!isOfInspection(entry)) throw new Error('only inspection runs are measured here');
      entries.push(entry);
      note(entry);
      return entry;
    });
    if (row && !('pointCount' in row)) rows.set(run, { ...row, upTo: entries.length });
    return added;
  };
  return {
    file: 'in memory',
    rows: rowsIn(rows, extents),
    continuity: { keep: () => undefined, count: () => 0, list: () => ({ runs: [], total: 0 }) },
    append,
    *entries(run, behind = 0) {
      for (let place = behind; place < entries.length; place++) {
        const entry = entries[place];
        if (entry && (run === undefined || entry.run === run)) yield entry;
      }
    },
    extentOf: (run) => extents.get(run) ?? null,
    size: () => entries.length,
    nextRun: () => Math.max(0, ...extents.keys()) + 1,
    *checkingTail() {},
    end: () => ({ position: 0, hash: CHAIN_START }),
    markChecked: () => undefined,
    forgetRows: () => rows.clear(),
    close: () => undefined,
  };
}

function rowsIn(rows: Map<number, RunRow>, extents: Map<number, { last: number; count: number }>): RunRows {
  const latest = (most: number) => [...rows.values()].sort((a, b) => b.run - a.run).slice(0, most);
  return {
    keep: (kept) => {
      for (const row of kept) rows.set(row.run, row);
    },
    latest,
    toGoOn: latest,
    count: () => rows.size,
    practised: () => [],
    of: (run) => rows.get(run) ?? null,
    find: () => ({ rows: latest(50), next: null, total: rows.size }),
    page: () => ({ rows: latest(50), next: null }),
    countOf: () => rows.size,
    names: () => ({ parts: [], suppliers: [], inspectors: [] }),
    trends: () => {
      throw new Error('these rows have no trends');
    },
    outcomesOf: () => [],
    lotsOf: () => latest(rows.size),
    stale: () => [...extents].filter(([run, { last }]) => last > (rows.get(run)?.upTo ?? 0)).map(([run]) => run),
  };
}
