import { type MeterDriftPoint, meterDrift } from '../drift/meterDrift.ts';
import type { Run } from '../inspection/run.ts';
import { significant } from '../quantity/significant.ts';
import { type Row, textRow } from './format.ts';

const DIGITS_OF_EN = 3;

/** How far the meter moved over the run, by its reference. */
export function driftRows({ references, window }: Run): Row[] {
  const points = meterDrift(references, window);
  const compared = points.filter(({ en }) => en !== null);
  const drifted = largest(points, ({ driftOhms }) => Number(driftOhms));
  const disagreed = largest(compared, ({ en }) => en ?? 0);
  return [
    textRow('drift', 'checks of the reference', String(points.length)),
    {
      row: 'drift',
      item: 'largest drift',
      text: drifted
        ? `${wordsOf(drifted)}, since the first check with it; ±${drifted.mostDriftOhms} Ω are allowed between two checks`
        : 'no reference was measured',
      ohms: drifted?.driftOhms ?? '',
    },
    {
      row: 'drift',
      item: 'largest E_n',
      text: disagreed
        ? wordsOf(disagreed)
        : 'not known: it takes a reference and the limits of error of a meter in date',
      number: disagreed?.en == null ? '' : significant(disagreed.en, DIGITS_OF_EN),
    },
  ];
}

function largest(
  points: readonly MeterDriftPoint[],
  sizeOf: (point: MeterDriftPoint) => number,
): MeterDriftPoint | null {
  return points.reduce<MeterDriftPoint | null>(
    (most, one) => (most === null || Math.abs(sizeOf(one)) > Math.abs(sizeOf(most)) ? one : most),
    null,
  );
}

function wordsOf({ name, afterReading, passed }: MeterDriftPoint): string {
  return `reference ${name} after reading ${afterReading}${passed ? '' : ', a check that failed'}`;
}
