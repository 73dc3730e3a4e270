import type { OddLot } from '../diagnosis/oddLot.ts';
import { meanOf } from '../drift/meterDrift.ts';
import { placeOf, usualDigit } from './analysisOfRun.ts';
import { counts, type Run } from './run.ts';

/** What diagnosis looks at of a run: of its references those that passed, and the last one, which may be why something is wrong. */
export function oddLotOf(run: Pick<Run, 'window' | 'part' | 'measurement' | 'readings' | 'references'>): OddLot {
  const began = Date.parse(run.readings.first()?.at ?? '');
  const readings = Array.from(run.readings, (reading) => ({
    ohms: reading.ohms === null ? null : Number(reading.ohms),
    piece: reading.piece,
    position: placeOf(reading),
    atMilliseconds: Date.parse(reading.at) - began,
    counts: counts(reading),
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
      .map(({ afterReading, at, ohms, measuredOhms, uncertaintyOhms }) => ({
        afterReading,
        atMilliseconds: Date.parse(at) - began,
        trueOhms: Number(ohms),
        measuredOhms: Number(meanOf(measuredOhms)),
        uncertaintyOhms: Number(uncertaintyOhms),
      })),
  };
}
