import { fold } from '../../core/inspection/apply.ts';
import type { InspectionEvent } from '../../core/inspection/event.ts';
import type { Happening, Run } from '../../core/inspection/run.ts';
import type { AtTheBench } from '../../core/inspection/worth.ts';

/**
 * The bench as it was right before a reading: a later round of checks may have changed the zero, the ambient temperature
 * or the reference, and none of that has part in what the reading was worth. Null where the run does not hold the reading.
 */
export function benchBefore(run: Run, reading: number): AtTheBench | null {
  if (reading < 1 || reading > run.readings.size) return null;
  const received: InspectionEvent = { type: 'lot-received', at: run.receivedAt, facts: run };
  // Only meters and checks change what is known of the bench.
  const before = run.history.filter(({ afterReading }) => afterReading < reading).flatMap(eventsOf);
  return fold([received, ...before]);
}

function eventsOf(happening: Happening): InspectionEvent[] {
  if (happening.kind === 'meter') return [{ type: 'meter-connected', at: happening.at, meter: happening.meter }];
  if (happening.kind !== 'check') return [];
  const { kind, afterReading, found, ...done } = happening;
  return [{ type: 'bench-checked', found: [...found], ...done }];
}
