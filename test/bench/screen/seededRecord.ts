import type { Entry } from '../../../core/contract/contract.ts';
import type { InspectionEvent } from '../../../core/inspection/event.ts';
import type { Record } from '../../../main/record/record.ts';

/** A record in memory: what is measured is the screen, and a million entries on a disk are checked for half a minute at each start. */
export function recordInMemory(entries: Entry[]): Record {
  const append = (run: number, events: readonly InspectionEvent[]): Entry[] =>
    events.map((event) => {
      const entry = { position: entries.length + 1, run, event, previous: '', hash: '' };
      entries.push(entry);
      return entry;
    });
  return {
    file: 'in memory',
    append,
    *entries(run) {
      for (const entry of entries) if (run === undefined || entry.run === run) yield entry;
    },
    size: () => entries.length,
    nextRun: () => Math.max(0, ...entries.slice(0, 1).map((entry) => entry.run)) + 1,
    close: () => undefined,
  };
}
