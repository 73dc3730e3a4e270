import { Map as ImmutableMap, List } from 'immutable';
import { problem } from '../problem/problem.ts';
import { areLeadsGood, type ContinuityHappening, type ContinuityRun, type PointReading } from './continuityRun.ts';
import type { ContinuityEvent } from './event.ts';
import { LEAD_CHECKS, type LeadCheckName } from './leadCheck.ts';

/** The run after an event. Pure; the first event is that it was received. @throws problem run-unknown of any other first one */
export function applyContinuity(run: ContinuityRun | null, event: ContinuityEvent): ContinuityRun {
  if (event.type === 'continuity-received') {
    return {
      ...event.facts,
      receivedAt: event.at,
      meter: null,
      cautioned: null,
      round: [],
      lastGood: 0,
      zeroOhms: null,
      readings: List(),
      counting: ImmutableMap(),
      skipped: ImmutableMap(),
      history: List(),
      decided: null,
      certificates: [],
    };
  }
  if (run === null) throw problem('run-unknown', 0);
  if (event.type === 'continuity-point-read') return withReading(run, event);
  if (event.type === 'continuity-certificate-written') {
    const { file, sha256, at } = event;
    return { ...run, certificates: [...run.certificates, { file, sha256, at }] };
  }
  const happening: ContinuityHappening = { ...event, afterReading: run.readings.size };
  return { ...changed(run, event), history: run.history.push(happening) };
}

type Beside = Exclude<
  ContinuityEvent,
  { type: 'continuity-received' | 'continuity-point-read' | 'continuity-certificate-written' }
>;

function changed(run: ContinuityRun, event: Beside): ContinuityRun {
  switch (event.type) {
    case 'continuity-meter-connected':
      // Whatever was shown was shown with other leads, or before somebody was away.
      return { ...run, meter: event.meter, cautioned: null, round: [] };
    case 'continuity-cautions-confirmed': {
      const { by, at, cautions } = event;
      return { ...run, cautioned: { by, at, cautions } };
    }
    case 'continuity-checks-lapsed':
      return { ...run, round: [] };
    case 'continuity-leads-checked':
      return withCheck(run, event);
    case 'continuity-point-skipped': {
      const { by, reason, at } = event;
      return { ...run, skipped: run.skipped.set(event.point, { by, reason, at }) };
    }
    case 'continuity-reading-voided': {
      const { by, reason, at } = event;
      return withdrawn(run, [event.reading - 1], (reading) => ({ ...reading, voided: { by, reason, at } }));
    }
    case 'continuity-decided': {
      const { disposition, by, at, reason, approvedBy } = event;
      return { ...run, decided: { disposition, by, at, reason, approvedBy } };
    }
    case 'continuity-hold-lifted':
      return { ...run, decided: null };
  }
}

function withReading(
  run: ContinuityRun,
  { type: _, ...reading }: Extract<ContinuityEvent, { type: 'continuity-point-read' }>,
): ContinuityRun {
  return {
    ...run,
    readings: run.readings.push({ ...reading, voided: null, suspect: null }),
    counting: run.counting.set(reading.point, run.readings.size),
    skipped: run.skipped.delete(reading.point),
  };
}

function withCheck(
  run: ContinuityRun,
  { check, outcome, why, at, zeroOhms }: Extract<ContinuityEvent, { type: 'continuity-leads-checked' }>,
): ContinuityRun {
  const hasPassed = outcome !== 'failed';
  const next: ContinuityRun = { ...run, round: roundAfter(check, hasPassed), zeroOhms: zeroOhms ?? run.zeroOhms };
  if (!hasPassed) {
    // Since when it was so nobody knows: nothing since the last good round counts.
    const places = run.readings.toArray().flatMap((_, place) => (place < run.lastGood ? [] : [place]));
    return withdrawn(next, places, (reading) =>
      reading.voided || reading.suspect ? reading : { ...reading, suspect: { why, at } },
    );
  }
  return areLeadsGood(next) ? { ...next, lastGood: run.readings.size } : next;
}

function roundAfter(check: LeadCheckName, hasPassed: boolean): readonly LeadCheckName[] {
  return LEAD_CHECKS.slice(0, LEAD_CHECKS.indexOf(check) + (hasPassed ? 1 : 0));
}

function withdrawn(
  run: ContinuityRun,
  places: readonly number[],
  change: (reading: PointReading) => PointReading,
): ContinuityRun {
  const readings = run.readings.withMutations((list) => {
    for (const place of places) list.update(place, (reading) => reading && change(reading));
  });
  const counting = run.counting.withMutations((map) => {
    for (const place of places) {
      const reading = readings.get(place);
      const isGone = reading !== undefined && (reading.voided !== null || reading.suspect !== null);
      if (isGone && map.get(reading.point) === place) map.delete(reading.point);
    }
  });
  return { ...run, readings, counting };
}
