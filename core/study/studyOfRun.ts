import { counts, type Run } from '../inspection/run.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { turnOf } from './order.ts';
import { readingsOf, type Study, studyOf } from './study.ts';
import type { StudyChoice } from './studyPlan.ts';

/** Sessions that begin nearer to each other show little of what changes from day to day. Our choice: a working day. */
const LEAST_HOURS_APART = 8;

/**
 * What a study says that was measured as a run, by the reading of each turn that counts; null where the run is no study.
 * @throws problems of readingsOf and studyOf: not before all turns are read
 */
export function studyOfRun({ plan, readings, window }: Pick<Run, 'plan' | 'readings' | 'window'>): Study | null {
  const { choice } = plan;
  if (choice.kind !== 'study') return null;
  const ohms = new Map<number, DecimalText | null>();
  const times = new Map<number, number>();
  for (const reading of readings) {
    if (!counts(reading)) continue;
    ohms.set(reading.piece, reading.ohms);
    times.set(reading.piece, Date.parse(reading.at));
  }
  const study = studyOf(
    readingsOf(choice, (turn) => ohms.get(turn)),
    window,
  );
  return { ...study, notes: [...study.notes, ...tooNear(choice, times)] };
}

/** Says so where sessions were measured one right after the other. @param times of each turn, in milliseconds */
function tooNear(choice: StudyChoice, times: ReadonlyMap<number, number>): string[] {
  const began = new Map<string, number>();
  for (const [turn, time] of times) {
    const { run, session } = turnOf(choice, turn);
    const key = `${run} ${session}`;
    began.set(key, Math.min(began.get(key) ?? time, time));
  }
  const starts = [...began.values()].sort((a, b) => a - b);
  const gaps = starts.slice(1).map((start, index) => start - (starts[index] as number));
  if (gaps.length === 0) return [];
  const hours = Math.min(...gaps) / 3_600_000;
  if (hours >= LEAST_HOURS_APART) return [];
  const apart = hours < 1 ? 'less than an hour' : `${Math.floor(hours)} to ${Math.floor(hours) + 1} hours`;
  return [
    `Sessions began ${apart} apart (a working day, ${LEAST_HOURS_APART} hours, is the least): what changes from day to day or run to run is hardly in these figures`,
  ];
}
