import { counts, type Run } from '../inspection/run.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import { readingsOf, type Study, studyOf } from './study.ts';

/**
 * What a study says that was measured as a run, by the reading of each turn that counts; null where the run is no study.
 * @throws problems of readingsOf and studyOf: not before all turns are read
 */
export function studyOfRun({ plan, readings, window }: Pick<Run, 'plan' | 'readings' | 'window'>): Study | null {
  if (plan.choice.kind !== 'study') return null;
  const ohms = new Map<number, DecimalText | null>();
  for (const reading of readings) if (counts(reading)) ohms.set(reading.piece, reading.ohms);
  return studyOf(
    readingsOf(plan.choice, (turn) => ohms.get(turn)),
    window,
  );
}
