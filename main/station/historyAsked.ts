import { dirname, resolve } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { csvText } from '../../core/certificate/csv.ts';
import type { Answers, CheckedQuestion } from '../../core/contract/contract.ts';
import { type HistoryFilters, historyQuestion } from '../../core/contract/history.ts';
import { HISTORY_COLUMNS, historyCells } from '../../core/contract/historyCsv.ts';
import { FileBeingWritten } from '../certificates/fileBeingWritten.ts';
import { firstFree } from '../certificates/writeUnderFreeName.ts';
import type { Record } from '../record/record.ts';
import { now } from './clock.ts';
import type { DataFolders } from './dataFolder.ts';
import type { KeptRuns } from './keptRuns.ts';
import type { GoingOn, LongWorks } from './longWorks.ts';
import { asTheyAreNow } from './recordAsked.ts';

type Asked = 'history' | 'history-names' | 'history-trends' | 'export-history';

/** Rows of one page of an export: a meter that is being read meanwhile waits no longer than that. */
const AT_ONE_GO = 250;

interface Surroundings {
  record: Record;
  runs: KeptRuns;
  works: LongWorks;
  folders: DataFolders;
}

/** What the station answers of the runs there were. */
export function historyAsked({ record, runs, works, folders }: Surroundings): {
  [N in Asked]: (question: CheckedQuestion<N>) => Answers[N] | Promise<Answers[N]>;
} {
  return {
    history: (asked) => {
      const { rows, ...rest } = record.rows.find(asked);
      return { rows: asTheyAreNow(rows, runs), ...rest };
    },
    'history-names': () => record.rows.names(),
    'history-trends': (asked) => record.rows.trends(asked),
    'export-history': ({ work, filters, file }) =>
      works.begin(work, async (going) => {
        const written = await FileBeingWritten.begin(
          file === undefined ? folders.certificates : dirname(resolve(file)),
        );
        try {
          const rows = await writeRows(record, runs, filters, written, going);
          const sha256 = await written.finish();
          going.throwIfStopped();
          if (file === undefined) {
            const name = `history-${now().slice(0, 10)}`;
            return { file: await firstFree(folders.certificates, name, (free) => written.name(free)), sha256, rows };
          }
          await written.name(resolve(file));
          return { file: resolve(file), sha256, rows };
        } finally {
          await written.end();
        }
      }),
  };
}

/** Puts all runs that are looked for into a file, a page at a time; returns how many they are. */
async function writeRows(
  record: Record,
  runs: KeptRuns,
  filters: HistoryFilters,
  written: FileBeingWritten,
  going: GoingOn,
): Promise<number> {
  const of = record.rows.countOf(filters);
  written.put(Buffer.from(csvText([[...HISTORY_COLUMNS]])));
  let asked = historyQuestion.parse({ ...filters, most: AT_ONE_GO });
  for (let done = 0; ; ) {
    const { rows, next } = record.rows.page(asked);
    written.put(Buffer.from(csvText(asTheyAreNow(rows, runs).map(historyCells))));
    done += rows.length;
    if (next === null) return done;
    // Runs that are received meanwhile may make them more.
    going.tell({ step: 'rows-written', done, of: Math.max(of, done) });
    await setImmediate();
    going.throwIfStopped();
    asked = { ...asked, after: next };
  }
}
