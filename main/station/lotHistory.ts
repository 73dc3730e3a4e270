import { setImmediate } from 'node:timers/promises';
import type { LotFigures } from '../../core/contract/contract.ts';
import type { HistoryRow } from '../../core/contract/history.ts';
import { type FiguresOfLot, figuresOfValues } from '../../core/inspection/figuresOfLot.ts';
import { counts, type Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import type { RunRows } from '../record/runRows.ts';
import type { KeptRuns } from './keptRuns.ts';
import type { GoingOn } from './longWorks.ts';

/** Readings gone through at one go: a meter that is being read meanwhile waits no longer than that. */
const AT_ONE_GO = 20_000;

type Going = Pick<GoingOn, 'tell' | 'throwIfStopped'>;

/**
 * All lots of the part and supplier of a run, in the order they were received, its own among them. Studies are no lots;
 * practice on the simulated bench stands beside practice only, and real readings beside real ones. Lots that are decided or on hold
 * have their figures from the tables of runs; of others they are worked out.
 * @param of a run of that part and supplier
 * @throws problems run-unknown, work-stopped
 */
export async function lotHistory(
  { rows, runs }: { rows: RunRows; runs: Pick<KeptRuns, 'load'> },
  of: number,
  going: Going,
): Promise<LotFigures[]> {
  const row = rows.of(of);
  if (row === null) throw problem('run-unknown', of);
  const comparable = rows.lotsOf(row);
  const lots: LotFigures[] = [];
  for (const row of comparable) {
    await setImmediate();
    going.throwIfStopped();
    lots.push(
      lotFigures(row, row.figures ?? (await figuresNow((await runs.load(row.run, quietly(going))).run, going))),
    );
    going.tell({ step: 'lots', done: lots.length, of: comparable.length });
  }
  return lots;
}

/** What is read of one lot is no measure of how many there are. */
function quietly(going: Going): Going {
  return { ...going, tell: () => undefined };
}

async function figuresNow(run: Run, { throwIfStopped }: Going): Promise<FiguresOfLot> {
  const ohms: number[] = [];
  for (let from = 0; from < run.readings.size; from += AT_ONE_GO) {
    await setImmediate();
    throwIfStopped();
    for (const one of run.readings.judged(from, from + AT_ONE_GO)) {
      if (counts(one) && one.ohms !== null) ohms.push(Number(one.ohms));
    }
  }
  return figuresOfValues(ohms);
}

function lotFigures({ run, lot, receivedAt, disposition }: HistoryRow, figures: FiguresOfLot): LotFigures {
  const { count, leftOut, meanOhms, standardDeviationOhms } = figures;
  return { run, lot, receivedAt, count, leftOut, meanOhms, standardDeviationOhms, disposition };
}
