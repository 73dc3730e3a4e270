import { List } from 'immutable';
import { CHECK_WORDS, CHECKS } from '../readiness/check.ts';
import { medianOf } from '../readiness/median.ts';
import { isWhole, roundAfter } from '../readiness/round.ts';
import type { InspectionEvent } from './event.ts';
import { counts, type Happening, type Run } from './run.ts';
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
      round: [],
      roundBegan: null,
      lastGood: 0,
      shortedOhms: null,
      zeroOhms: '0',
      ambientCelsius: null,
      overridden: null,
      history: List(),
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
    case 'meter-connected': {
      const { meter, at } = event;
      const connected = noted(run, { kind: 'meter', at, meter });
      // A bench that was put together anew is confirmed and checked anew, and its calibration overridden anew.
      return { ...connected, meter, benchConfirmed: null, overridden: null, interrupted: null, ...NO_ROUND };
    }
    case 'bench-confirmed': {
      const { by, at, cautions } = event;
      const benchConfirmed = { by, at, cautions };
      return { ...noted(run, { kind: 'confirmed', ...benchConfirmed }), benchConfirmed };
    }
    case 'bench-checked':
      return checked(run, event);
    case 'readiness-expired':
      return lapsed(run, event.why, event.at);
    case 'calibration-overridden': {
      const { by, at, reason } = event;
      return { ...noted(run, { kind: 'override', by, at, reason }), overridden: { by, at, reason } };
    }
    case 'reading-taken': {
      const { type, ...reading } = event;
      return {
        ...run,
        readings: run.readings.push({ ...reading, voided: null, suspect: null }),
        tally: count(run.tally, event.verdict, 1),
        again: run.again.includes(event.piece) ? run.again.filter((piece) => piece !== event.piece) : run.again,
      };
    }
    case 'reading-voided': {
      const { reading: number, by, reason, at } = event;
      const reading = run.readings.get(number - 1);
      if (!reading) return run;
      const tally = count(run.tally, reading.verdict, -1);
      return {
        ...noted(run, { kind: 'voided', reading: number, by, reason, at }),
        readings: run.readings.set(number - 1, { ...reading, voided: { by, reason, at } }),
        tally: { ...tally, voided: tally.voided + 1 },
        again: sorted([...run.again, reading.piece]),
      };
    }
    case 'run-interrupted':
      return { ...run, interrupted: { why: event.why, at: event.at } };
    case 'run-continued': {
      const continued = { ...run, interrupted: null };
      // Nothing is added to a run that is closed; its readings were proven when it was.
      if (run.decided && run.decided.disposition !== 'on-hold') return continued;
      return lapsed(continued, `the meter was away: ${run.interrupted?.why ?? 'its line was lost'}`, event.at);
    }
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

const NO_ROUND = { round: [], roundBegan: null } as const;

function noted(run: Run, happening: WithoutPlace<Happening>): Run {
  return { ...run, history: run.history.push({ ...happening, afterReading: run.readings.size } as Happening) };
}

function lapsed(run: Run, why: string, at: string): Run {
  return run.round.length === 0 ? run : { ...noted(run, { kind: 'lapsed', why, at }), ...NO_ROUND };
}

/**
 * The run after a check. One that failed cuts the round before it, and every reading since the last whole round is
 * suspect: nothing shows that the bench was good when it was taken.
 */
function checked(run: Run, event: Extract<InspectionEvent, { type: 'bench-checked' }>): Run {
  const { type, ...done } = event;
  const { check, at } = event;
  const passed = event.outcome !== 'failed';
  const round = roundAfter(check, passed);
  const next: Run = {
    ...noted(run, { kind: 'check', ...done }),
    round,
    roundBegan: round.length === 0 ? null : check === CHECKS[0] ? at : run.roundBegan,
  };
  if (!passed) return suspected(next, `the check of ${CHECK_WORDS[check]} failed`, at);
  if (check === 'shorted-leads') {
    next.shortedOhms = medianOf(event.found, run.measurement.method);
    next.zeroOhms = event.zeroOhms ?? '0';
  }
  if (check === 'ambient') next.ambientCelsius = event.found.find(({ unit }) => unit === 'celsius')?.value ?? null;
  if (isWhole(next)) next.lastGood = run.readings.size;
  return next;
}

/** The run with every reading that counts and was taken since the last whole round marked as suspect. */
function suspected(run: Run, why: string, at: string): Run {
  const pieces: number[] = [];
  let { tally } = run;
  const readings = run.readings.withMutations((list) => {
    for (let index = run.lastGood; index < list.size; index++) {
      const reading = list.get(index);
      if (!reading || !counts(reading)) continue;
      list.set(index, { ...reading, suspect: { why, at } });
      pieces.push(reading.piece);
      tally = count(tally, reading.verdict, -1);
    }
  });
  if (pieces.length === 0) return run;
  tally = { ...tally, suspect: tally.suspect + pieces.length };
  return { ...run, readings, tally, again: sorted([...run.again, ...pieces]) };
}

function sorted(pieces: number[]): number[] {
  return pieces.sort((a, b) => a - b);
}

/** A happening before its place among the readings is known. */
type WithoutPlace<T> = T extends unknown ? Omit<T, 'afterReading'> : never;

/** The run that these events make; null when there are none. */
export function fold(events: Iterable<InspectionEvent>): Run | null {
  let run: Run | null = null;
  for (const event of events) run = apply(run, event);
  return run;
}
