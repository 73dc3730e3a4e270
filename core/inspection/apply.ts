import { Map as ImmutableMap, List } from 'immutable';
import { enOf } from '../drift/meterDrift.ts';
import { type DecimalText, subtract } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { CHECK_WORDS, CHECKS, type Found, type FoundWhat, type ReferenceFacts } from '../readiness/check.ts';
import { medianOf } from '../readiness/median.ts';
import { isWhole, roundAfter } from '../readiness/round.ts';
import { isClassA } from '../window/classA.ts';
import type { Verdict } from '../window/judge.ts';
import type { Correctable, InspectionEvent, MeterFacts } from './event.ts';
import { Readings } from './readings.ts';
import { counts, type Happening, type ReferenceShown, type Run, type Scatter } from './run.ts';
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
      shortedReadings: [],
      references: [],
      reference: null,
      scatter: NO_SCATTER,
      zeroOhms: '0',
      ambientCelsius: null,
      overridden: null,
      history: List(),
      readings: Readings.of([]),
      tally: EMPTY_TALLY,
      taken: ImmutableMap(),
      said: null,
      again: [],
      interrupted: null,
      decided: null,
      certificates: [],
      practised: { acts: [], named: null, scored: null },
    };
  }
  if (run === null) throw new Error(`a run begins with lot-received, not with ${event.type}`);

  switch (event.type) {
    case 'meter-connected': {
      const { meter, at } = event;
      const connected = noted(run, { kind: 'meter', at, meter });
      // A bench that was put together anew is confirmed and checked anew, and its calibration overridden anew.
      const anew = { benchConfirmed: null, overridden: null, interrupted: null, ...NO_ROUND };
      return { ...connected, ...knownOfMeter(run, meter), meter, ...anew };
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
      const { at, reading, piece, position, raw, ohms, zeroOhms, temperatureOhms, uncertainty, verdict } = event;
      return {
        ...run,
        readings: run.readings.push({
          at,
          reading,
          piece,
          position,
          raw,
          ohms,
          zeroOhms,
          temperatureOhms,
          uncertainty,
          verdict,
          voided: null,
          suspect: null,
        }),
        tally: count(run.tally, kindOf(run, event), 1),
        taken: position === null ? run.taken : run.taken.set(position, piece),
        said: stillSaid(run.said, piece, position),
        again: run.again.includes(piece) ? run.again.filter((other) => other !== piece) : run.again,
      };
    }
    case 'position-said': {
      const { piece, position } = event;
      return { ...run, said: position === null ? null : { piece, position } };
    }
    case 'reading-voided': {
      const { reading: number, by, reason, at } = event;
      const reading = run.readings.get(number - 1);
      if (!reading) return run;
      const tally = count(run.tally, kindOf(run, reading), -1);
      return {
        ...noted(run, { kind: 'voided', reading: number, by, reason, at }),
        readings: run.readings.changed(number - 1, number, (taken) => ({ ...taken, voided: { by, reason, at } })),
        tally: { ...tally, voided: tally.voided + 1 },
        taken: reading.position === null ? run.taken : run.taken.delete(reading.position),
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
      const { disposition, by, at, reason, approvedBy } = event;
      const decided = { disposition, by, at, reason, approvedBy, firstAt: at };
      return { ...(disposition === 'on-hold' ? noted(run, { kind: 'held', by, at, reason }) : run), decided };
    }
    case 'hold-lifted': {
      const { by, at, reason } = event;
      return { ...noted(run, { kind: 'hold-lifted', by, at, reason }), decided: null };
    }
    case 'decision-corrected': {
      const { disposition, by, at, reason, approvedBy } = event;
      const was = run.decided;
      if (was === null) return run;
      const is = { disposition, by, at, reason, approvedBy, firstAt: was.firstAt };
      return { ...noted(run, { kind: 'decision-corrected', was, is }), decided: is };
    }
    case 'facts-corrected': {
      const { fact, was, is, by, at, reason } = event;
      return withFact(noted(run, { kind: 'fact-corrected', fact, was, is, by, at, reason }), fact, is);
    }
    case 'certificate-written': {
      const { file, sha256, at } = event;
      return { ...run, certificates: [...run.certificates, { file, sha256, at }] };
    }
    case 'bench-acted':
      return {
        ...run,
        practised: {
          ...run.practised,
          acts: [...run.practised.acts, { act: event.act, afterReading: run.readings.size }],
        },
      };
    case 'cause-named': {
      const { cause, which } = event;
      return { ...run, practised: { ...run.practised, named: { cause, which } } };
    }
    case 'exercise-scored': {
      const { type, ...scored } = event;
      return { ...run, practised: { ...run.practised, scored } };
    }
  }
}

function withFact(run: Run, fact: Correctable, is: string): Run {
  const { lot, part } = run;
  switch (fact) {
    case 'lot number':
      return { ...run, lot: { ...lot, number: is } };
    case 'supplier':
      return { ...run, lot: { ...lot, supplier: is } };
    case 'reel':
      return { ...run, lot: { ...lot, reel: is } };
    case 'description':
      return { ...run, part: { ...part, description: is } };
  }
}

/** As what a reading is counted. */
function kindOf({ classA, window }: Run, reading: { verdict: Verdict; ohms: DecimalText | null }) {
  return { verdict: reading.verdict, classA: isClassA(classA, window, reading) };
}

const NO_SCATTER: Scatter = { squares: 0, degreesOfFreedom: 0, atOhms: '1' };

const NO_ROUND = { round: [], roundBegan: null } as const;

/** What is said of a later piece holds while another one is measured again in between, unless that one came from there. */
function stillSaid(said: Run['said'], piece: number, position: number | null): Run['said'] {
  return said === null || said.piece === piece || said.position === position ? null : said;
}

/** What is still known of a meter that is connected: nothing of another one, no scatter with another setting. */
function knownOfMeter(run: Run, { identity, setting }: MeterFacts): Pick<Run, 'references' | 'reference' | 'scatter'> {
  const { meter, references, reference, scatter } = run;
  if (meter?.identity.text !== identity.text) return { references: [], reference: null, scatter: NO_SCATTER };
  const same =
    meter.setting.function === setting.function &&
    meter.setting.range === setting.range &&
    meter.setting.rangeOhms === setting.rangeOhms &&
    meter.setting.integrationCycles === setting.integrationCycles;
  return { references, reference, scatter: same ? scatter : NO_SCATTER };
}

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
    ...(event.reference ? withReference(run, event.reference, event) : run),
    history: noted(run, { kind: 'check', ...done }).history,
    round,
    roundBegan: round.length === 0 ? null : check === CHECKS[0] ? at : run.roundBegan,
  };
  if (!passed) return suspected(next, `the check of ${CHECK_WORDS[check]} failed`, at);
  if (event.outcome === 'waived') next.reference = null;
  if (check === 'shorted-leads') {
    next.shortedOhms = medianOf(event.found, run.measurement.method);
    next.shortedReadings = textsOf(event.found, run.measurement.method);
    next.zeroOhms = event.zeroOhms ?? '0';
  }
  if (check === 'ambient') next.ambientCelsius = event.found.find(({ unit }) => unit === 'celsius')?.value ?? null;
  if (isWhole(next)) next.lastGood = run.readings.size;
  return next;
}

/** Notes in the run that a reference was measured; the scatter of its readings adds to that of earlier rounds with the same. */
function withReference(
  run: Run,
  reference: ReferenceFacts,
  event: Extract<InspectionEvent, { type: 'bench-checked' }>,
): Run {
  const { found, at, outcome } = event;
  const { name, ohms, uncertaintyOhms } = reference;
  const { method } = run.measurement;
  const measuredOhms = textsOf(found, method).map((text) => subtract(text, run.zeroOhms));
  const raw = found.find((one) => one.what === method && one.value !== null)?.raw;
  if (raw === undefined) return run;
  const shown: ReferenceShown = {
    afterReading: run.readings.size,
    at,
    name,
    ohms,
    uncertaintyOhms,
    measuredOhms,
    resolutionOhms: resolutionOfRaw(raw) ?? '0',
    passed: outcome === 'passed',
    en: enOf(run, { ohms, uncertaintyOhms, measuredOhms }, raw, at),
  };
  const references = [...run.references, shown];
  if (!shown.passed) return { ...run, references };
  const last = run.references.findLast(({ passed }) => passed);
  const before = last && last.name === name && last.ohms === ohms ? run.scatter : NO_SCATTER;
  return { ...run, references, reference: shown, scatter: scatterWith(before, ohms, measuredOhms.map(Number)) };
}

function scatterWith({ squares, degreesOfFreedom }: Scatter, atOhms: DecimalText, values: readonly number[]): Scatter {
  const first = values[0] ?? 0;
  // About the first of them, so that nothing is lost to their size.
  const off = values.map((value) => value - first);
  const mean = off.reduce((sum, each) => sum + each, 0) / Math.max(1, off.length);
  return {
    squares: off.reduce((sum, each) => sum + (each - mean) ** 2, squares),
    degreesOfFreedom: degreesOfFreedom + Math.max(0, values.length - 1),
    atOhms,
  };
}

/** The values of what was shown, in the order they were read; overloads left out. */
function textsOf(found: readonly Found[], what: FoundWhat): DecimalText[] {
  return found.flatMap((one) => (one.what === what && one.value !== null ? [one.value] : []));
}

/** The run with every reading that counts and was taken since the last whole round marked as suspect. */
function suspected(run: Run, why: string, at: string): Run {
  const pieces: number[] = [];
  const left: number[] = [];
  let { tally } = run;
  const readings = run.readings.changed(run.lastGood, run.readings.size, (reading) => {
    if (!counts(reading)) return reading;
    pieces.push(reading.piece);
    if (reading.position !== null) left.push(reading.position);
    tally = count(tally, kindOf(run, reading), -1);
    return { ...reading, suspect: { why, at } };
  });
  if (pieces.length === 0) return run;
  tally = { ...tally, suspect: tally.suspect + pieces.length };
  return { ...run, readings, tally, taken: run.taken.deleteAll(left), again: sorted([...run.again, ...pieces]) };
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
