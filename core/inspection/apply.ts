import { List } from 'immutable';
import type { InspectionEvent } from './event.ts';
import type { Run } from './run.ts';
import { count, EMPTY_TALLY } from './tally.ts';

/**
 * The run after one more event. Pure: the same events always make the same run, wherever they are folded.
 * Events come from `decide`, so they are not judged again here; only the first must be `lot-received`.
 */
export function apply(run: Run | null, event: InspectionEvent): Run {
  if (event.type === 'lot-received') {
    return {
      ...event.facts,
      receivedAt: event.at,
      meter: null,
      benchConfirmed: null,
      confirmations: [],
      readings: List(),
      tally: EMPTY_TALLY,
      again: [],
      interrupted: null,
      decided: null,
      certificates: [],
    };
  }
  if (run === null) throw new Error(`a run begins with lot-received, not with ${event.type}`);

  switch (event.type) {
    case 'meter-connected':
      // A bench that was put together anew is confirmed anew.
      return { ...run, meter: event.meter, benchConfirmed: null, interrupted: null };
    case 'bench-confirmed': {
      const { by, at, cautions } = event;
      const benchConfirmed = { by, at, cautions };
      return { ...run, benchConfirmed, confirmations: [...run.confirmations, benchConfirmed] };
    }
    case 'reading-taken': {
      const { type, ...reading } = event;
      return {
        ...run,
        readings: run.readings.push({ ...reading, voided: null }),
        tally: count(run.tally, event.verdict, 1),
        again: run.again.includes(event.piece) ? run.again.filter((piece) => piece !== event.piece) : run.again,
      };
    }
    case 'reading-voided': {
      const index = event.reading - 1;
      const reading = run.readings.get(index);
      if (!reading) return run;
      const voided = { by: event.by, reason: event.reason, at: event.at };
      const tally = count(run.tally, reading.verdict, -1);
      return {
        ...run,
        readings: run.readings.set(index, { ...reading, voided }),
        tally: { ...tally, voided: tally.voided + 1 },
        again: [...run.again, reading.piece].sort((a, b) => a - b),
      };
    }
    case 'run-interrupted':
      return { ...run, interrupted: { why: event.why, at: event.at } };
    case 'run-continued':
      return { ...run, interrupted: null };
    case 'lot-decided': {
      const { disposition, by, at, reason } = event;
      return { ...run, decided: { disposition, by, at, reason } };
    }
    case 'hold-lifted':
      return { ...run, decided: null };
    case 'certificate-written': {
      const { file, sha256, at } = event;
      return { ...run, certificates: [...run.certificates, { file, sha256, at }] };
    }
  }
}

/** The run that these events make; null when there are none. */
export function fold(events: Iterable<InspectionEvent>): Run | null {
  let run: Run | null = null;
  for (const event of events) run = apply(run, event);
  return run;
}
