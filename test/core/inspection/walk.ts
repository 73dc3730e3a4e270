import { type MeterData, meterData } from '../../../core/accuracy/meterData.ts';
import { apply } from '../../../core/inspection/apply.ts';
import { CAUTIONS as EVERY_CAUTION } from '../../../core/inspection/cautions.ts';
import { type Command, decide } from '../../../core/inspection/decide.ts';
import type { LotFacts, MeterFacts } from '../../../core/inspection/event.ts';
import { factsOf, type LotClaimInput, lotClaim } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { CHECKS, type CheckName, type ReferenceFacts, type Shown } from '../../../core/readiness/check.ts';

/** A point in time of the tests, so many seconds into the run. */
export function timeAt(seconds: number): string {
  return new Date(Date.UTC(2026, 2, 2, 13, 5, 9, 120) + seconds * 1000).toISOString().replace('Z', '+00:00');
}

/** Accuracy and calibration of that meter, of our own invention; in date on all days of the tests. */
export const METER_DATA: MeterData = meterData.parse({
  calibration: { date: '2026-01-10', due: '2027-01-09', certificate: 'C-118' },
  validDays: 365,
  ambient: { lowest: '18', highest: '28' },
  ranges: ['100', '1000', '10000', '100000', '1000000', '10000000', '100000000'].map((fullScaleOhms) => ({
    method: 'both',
    fullScaleOhms,
    percentOfReading: '0.01',
    plus: { percentOfRange: '0.001' },
    perKelvin: { percentOfReading: '0.0006', percentOfRange: '0.0001' },
    testCurrentAmperes: '0.001',
  })),
});

/** A meter of our own invention. */
export const METER: MeterFacts = {
  address: 'tcp://127.0.0.1:5025',
  identity: {
    maker: 'Example Instruments',
    model: 'Six Digit',
    serial: '0042',
    firmware: '1.0',
    text: 'Example Instruments,Six Digit,0042,1.0',
    simulated: false,
  },
  setting: { function: '2-wire', range: 'fixed', rangeOhms: '10000', integrationCycles: '1' },
  dialect: 'scpi',
  setByHand: false,
  measures: ['2-wire', '4-wire', 'continuity', 'dc-volts'],
  data: METER_DATA,
};

/** The simulated bench, which is practice. */
export const SIMULATED: MeterFacts = {
  ...METER,
  identity: { ...METER.identity, text: 'Reelohm,Simulated bench,1,0.1.0', simulated: true },
};

export const OVERLOAD = '+9.90000000E+37';

/** A reference resistor of this value, in date on all days of the tests. */
export function referenceOf(ohms: string): ReferenceFacts {
  return { name: 'RS-1', ohms, uncertaintyOhms: '0.05', due: '2026-12-31' };
}

export const CAUTIONS = [...EVERY_CAUTION];

/** A lot of our own invention: 4.7 kΩ ±1 %, five pieces of a hundred, one may fail, whichever way. */
export function claimOf(over: Partial<LotClaimInput> = {}): LotClaimInput {
  return {
    inspector: 'Ines Okoro',
    part: { number: 'TF-4K7-1', description: 'thin film', nominal: '4k7', tolerance: '1 %' },
    lot: { number: 'L-2093', supplier: 'Example Supply', size: 100 },
    plan: { sampleSize: 5, accept: 1 },
    classA: null,
    ...over,
  };
}

export function factsOfClaim(over: Partial<LotClaimInput> = {}): LotFacts {
  return factsOf(lotClaim.parse(claimOf(over)));
}

/** Does the commands one after the other, a second apart; a refused one fails the test. */
export function walk(run: Run | null, ...commands: Command[]): Run {
  let now = run;
  for (const [index, command] of commands.entries()) {
    const events = decide(now, command, timeAt((now?.readings.size ?? 0) + index));
    if (events instanceof Problem) throw events;
    for (const event of events) now = apply(now, event);
  }
  if (now === null) throw new Error('no command');
  return now;
}

type Check = Extract<Command, { type: 'check-bench' }>;

/** Readings of a reference that scatter by a last digit of a six-digit meter. */
export function scattered(value: string): string[] {
  const decimals = Math.max(2, value.split('.')[1]?.length ?? 0);
  return [0, 1, -1, 0, 1].map((digits) => (Number(value) + digits * 10 ** -decimals).toFixed(decimals));
}

/** One check as it passes in this run: everything is as it should be, and the leads have no resistance. */
export function goodCheck(run: Run, check: CheckName): Check {
  const { method } = run.measurement;
  const value = run.window.upper ?? run.window.lower ?? '0';
  const shown: Record<CheckName, Shown[]> = {
    meter: [{ what: 'identity', raw: run.meter?.identity.text ?? '' }],
    'open-leads': [{ what: method, raw: OVERLOAD }],
    'shorted-leads': [
      ...Array<Shown>(3).fill({ what: method, raw: '+0.00000E+00' }),
      ...(method === '4-wire'
        ? ([
            { what: '2-wire-automatic', raw: '+2.00000E-01' },
            { what: '4-wire-automatic', raw: '+0.00000E+00' },
          ] as const)
        : []),
    ],
    'no-voltage': [{ what: 'dc-volts', raw: '+1.2E-04' }],
    reference: scattered(value).map((raw) => ({ what: method, raw })),
    method: [],
    ambient: [{ what: 'temperature-typed', raw: '23' }],
  };
  const reference = check === 'reference' ? referenceOf(value) : null;
  return { type: 'check-bench', by: 'Ines Okoro', check, shown: shown[check], reference };
}

/** The same check as it fails: `meter` and `method` by trouble, the others by what they read. */
export function badCheck(run: Run, check: CheckName): Check {
  const { method } = run.measurement;
  const shown: Record<CheckName, Shown[]> = {
    meter: [{ what: 'trouble', raw: '-222,"Data out of range" was in the error queue' }],
    'open-leads': [{ what: method, raw: '+1.2E+06' }],
    'shorted-leads': Array<Shown>(3).fill({ what: method, raw: OVERLOAD }),
    'no-voltage': [{ what: 'dc-volts', raw: '+5.0E+00' }],
    reference: [{ what: method, raw: OVERLOAD }],
    method: [{ what: 'trouble', raw: 'no range is known' }],
    ambient: [{ what: 'temperature-typed', raw: '99' }],
  };
  return { ...goodCheck(run, check), shown: shown[check] };
}

/** The run after a whole round of checks that pass. */
export function wholeRound(run: Run): Run {
  return CHECKS.reduce((now, check) => walk(now, goodCheck(now, check)), run);
}

/** A run with its meter connected and its cautions confirmed, and no checks done. */
export function confirmedRun(over: Partial<LotClaimInput> = {}, meter: MeterFacts = METER): Run {
  return walk(
    null,
    { type: 'receive-lot', facts: factsOfClaim(over) },
    { type: 'connect-meter', meter },
    { type: 'confirm-bench', by: 'Ines Okoro', cautions: CAUTIONS },
  );
}

/** A run that is ready to measure. */
export function readyRun(over: Partial<LotClaimInput> = {}, meter: MeterFacts = METER): Run {
  return wholeRound(confirmedRun(over, meter));
}

/** The run after these meter texts, one piece each. */
export function withReadings(run: Run, ...raws: string[]): Run {
  return walk(run, ...raws.map((raw): Command => ({ type: 'record-reading', measured: { raw } })));
}

/** The run as it is decided after a closing round of checks. */
export function decidedRun(run: Run, disposition: 'accepted' | 'not-accepted' | 'studied', reason = ''): Run {
  return walk(wholeRound(run), { type: 'decide-lot', disposition, by: 'Ines Okoro', reason });
}
