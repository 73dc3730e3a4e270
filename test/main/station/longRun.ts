import type { InspectionEvent } from '../../../core/inspection/event.ts';
import type { Record } from '../../../main/record/record.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation } from '../../openedStation.ts';
import { BY, readyBench } from '../../readyBench.ts';

/** Entries of one transaction. */
const AT_ONCE = 1000;

/**
 * The entries of a run with so many readings that was put on hold: made from the beginning of a real one, whose reading is repeated
 * with a spread of some ohms.
 */
export async function longRun(readings: number, lot = 'L-1'): Promise<InspectionEvent[]> {
  const claim = exampleLot({ sampleSize: readings, accept: 1 });
  const station = openedStation();
  const begun: InspectionEvent[] = [];
  station.listen((news) => {
    if (news.kind === 'entry') begun.push(news.entry.event);
  });
  const { run } = await station.ask('receive-lot', {
    claim: { ...claim, positions: { kind: 'as-taken' }, lot: { ...claim.lot, number: lot, size: readings } },
  });
  await readyBench(station, run);
  await station.ask('take-reading', { run });
  const first = begun.pop();
  if (first?.type !== 'reading-taken') throw new Error('the bench gave no reading');
  const taken = Array.from({ length: readings }, (_, index): InspectionEvent => {
    const ohms = (4690 + ((index * 7919) % 20_011) / 1000).toFixed(3);
    const raw = `+${Number(ohms).toExponential(6).replace('e+', 'E+0')}`;
    return { ...first, reading: index + 1, piece: index + 1, ohms, raw };
  });
  return [
    ...begun,
    ...taken,
    { type: 'lot-decided', at: first.at, disposition: 'on-hold', by: BY, reason: 'waiting', approvedBy: null },
  ];
}

/** Keeps entries in a record as a run of it. */
export function keep(record: Record, run: number, events: readonly InspectionEvent[]): void {
  for (let from = 0; from < events.length; from += AT_ONCE) record.append(run, events.slice(from, from + AT_ONCE));
}
