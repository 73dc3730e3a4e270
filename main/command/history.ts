import type { HistoryRow } from '../../core/contract/contract.ts';
import { filtersOf, HISTORY_WORDS, type HistoryWord, historyWords } from '../../core/contract/historyWords.ts';
import { problem } from '../../core/problem/problem.ts';
import { counted } from '../../core/quantity/formatCount.ts';
import type { Station } from '../station/station.ts';
import { exitStatus } from './exitStatus.ts';
import { tableLines } from './table.ts';
import { tame } from './tame.ts';
import { telling, withStation } from './withStation.ts';

/** The filters by their words, as the address of the screen has them. */
export type HistoryOptions = { [W in HistoryWord]?: string } & {
  csv?: string;
  json?: boolean;
  data?: string;
};

const WORK = 'export-history';
const ROWS = 500;

/** Says which runs there were. @throws problem input-invalid where a filter says what it cannot, and those of the station */
export async function history(options: HistoryOptions): Promise<number> {
  const said = HISTORY_WORDS.flatMap((word): [HistoryWord, string][] => {
    const value = options[word];
    return value === undefined ? [] : [[word, value]];
  });
  const { words, leftOut } = historyWords(said);
  // On a screen one sees what was left out; a command would do something else than it was told.
  if (leftOut.length > 0) throw problem('input-invalid', 'history', leftOut.join(' ').replace(/\.$/, ''));
  if (options.csv !== undefined && options.json) {
    throw problem('input-invalid', 'history', '--csv and --json exclude each other');
  }
  const filters = filtersOf(words);
  return withStation(options.data, async (station) => {
    const { csv } = options;
    if (csv !== undefined) {
      const { file, rows } = await telling(station, WORK, 'Writing the runs', () =>
        station.ask('export-history', { work: WORK, filters, file: csv }),
      );
      console.log(tame(`${file}: ${counted(rows, 'run', 'runs').replace('\u00a0', ' ')}`));
      return exitStatus.good;
    }
    let count = 0;
    for await (const rows of pagesOf(station, filters)) {
      count += rows.length;
      if (options.json) for (const row of rows) console.log(JSON.stringify({ type: 'run', ...row }));
      else for (const line of tableLines(cellsOf(rows), 'left')) console.log(line);
    }
    if (!options.json) console.error(`${counted(count, 'run', 'runs').replace('\u00a0', ' ')} found`);
    return exitStatus.good;
  });
}

async function* pagesOf(station: Station, filters: ReturnType<typeof filtersOf>): AsyncGenerator<HistoryRow[]> {
  let asked: Parameters<typeof station.ask<'history'>>[1] = { ...filters, most: ROWS };
  for (;;) {
    const { rows, next } = await station.ask('history', asked);
    yield rows;
    if (next === null) return;
    asked = { ...asked, after: next };
  }
}

/** Run, received, part, lot, supplier, inspector, measured of wanted, nonconforming, severity, disposition, what kind of run. */
function cellsOf(rows: readonly HistoryRow[]): string[][] {
  return rows.map((row) =>
    [
      String(row.run),
      row.receivedAt.slice(0, 10),
      row.part,
      row.lot,
      row.supplier,
      row.inspector,
      `${row.counted}/${row.sampleSize}`,
      row.study ? '' : `${row.nonconforming} nonconforming`,
      row.severity ?? '',
      row.disposition ?? 'undecided',
      [row.simulated && 'practice', row.study && 'study', row.offeredAgainAfter !== null && 'offered again']
        .filter((mark) => mark !== false)
        .join(', '),
    ].map(tame),
  );
}
