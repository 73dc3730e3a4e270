import type { OddLot } from '../diagnosis/oddLot.ts';
import { meanOf } from '../drift/meterDrift.ts';
import { placeOf, usualDigit } from './analysisOfRun.ts';
import type { Run } from './run.ts';

/** What diagnosis looks at of a run: of its references those that passed, and the last one, which may be why something is wrong. */
export function oddLotOf(run: Pick<Run, 'window' | 'part' | 'measurement' | 'readings' | 'references'>): OddLot {
  const began = Date.parse(run.readings.first()?.at ?? '');
  const lastOf = new Map<number, number>();
  for (const { piece, reading, voided } of run.readings) if (!voided) lastOf.set(piece, reading);
  const readings = Array.from(run.readings, (reading) => ({
    ohms: reading.ohms === null ? null : Number(reading.ohms),
    piece: reading.piece,
    position: placeOf(reading),
    atMilliseconds: Date.parse(reading.at) - began,
    // What is suspect says why, until its piece is measured again.
    counts: lastOf.get(reading.piece) === reading.reading,
  }));
  const uncertainties: number[] = [];
  for (const { uncertainty } of run.readings) if (uncertainty) uncertainties.push(Number(uncertainty.expandedOhms));
  uncertainties.sort((a, b) => a - b);
  return {
    window: run.window,
    tolerance: run.part.tolerance,
    method: run.measurement.method,
    expandedOhms: uncertainties[uncertainties.length >> 1] ?? null,
    resolutionOhms: usualDigit(run.readings),
    readings,
    references: run.references
      .filter(({ passed }, index) => passed || index === run.references.length - 1)
      .map(({ name, afterReading, at, ohms, measuredOhms, uncertaintyOhms, passed }) => ({
        afterReading,
        atMilliseconds: Date.parse(at) - began,
        name,
        trueOhms: Number(ohms),
        measuredOhms: Number(meanOf(measuredOhms)),
        uncertaintyOhms: Number(uncertaintyOhms),
        failed: !passed,
      })),
  };
}
