import { apply } from '../../../core/inspection/apply.ts';
import { CAUTIONS as EVERY_CAUTION } from '../../../core/inspection/cautions.ts';
import { type Command, decide } from '../../../core/inspection/decide.ts';
import type { LotFacts, MeterFacts } from '../../../core/inspection/event.ts';
import { factsOf, type LotClaimInput, lotClaim } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { meterNumber } from '../../../core/quantity/meterNumber.ts';
import type { Measured } from '../../../core/window/judge.ts';

/** A point in time of the tests, so many seconds into the run. */
export function timeAt(seconds: number): string {
  return new Date(Date.UTC(2026, 2, 2, 13, 5, 9, 120) + seconds * 1000).toISOString().replace('Z', '+00:00');
}

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
  setting: { function: '4-wire', range: 'fixed', rangeOhms: '10000', integrationCycles: '1' },
};

export const CAUTIONS = [...EVERY_CAUTION];

/** A lot of our own invention: 4.7 kΩ ±1 %, five pieces of a hundred, one may fail. */
export function claimOf(over: Partial<LotClaimInput> = {}): LotClaimInput {
  return {
    inspector: 'Ines Okoro',
    part: { number: 'TF-4K7-1', description: 'thin film', nominal: '4k7', tolerance: '1 %' },
    lot: { number: 'L-2093', supplier: 'Example Supply', size: 100 },
    plan: { sampleSize: 5, accept: 1 },
    ...over,
  };
}

export function factsOfClaim(over: Partial<LotClaimInput> = {}): LotFacts {
  return factsOf(lotClaim.parse(claimOf(over)));
}

/** What a meter's text measures. */
export function measuredFrom(raw: string): Measured {
  const number = meterNumber(raw);
  if (number?.kind === 'value') return { kind: 'value', ohms: number.text, raw };
  if (number?.kind === 'overload') return { kind: 'overload', raw };
  throw new Error(`${raw} is no reading`);
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

/** A run that is ready to measure. */
export function readyRun(over: Partial<LotClaimInput> = {}, meter: MeterFacts = METER): Run {
  return walk(
    null,
    { type: 'receive-lot', facts: factsOfClaim(over) },
    { type: 'connect-meter', meter },
    { type: 'confirm-bench', by: 'Ines Okoro', cautions: CAUTIONS },
  );
}

/** The run after these meter texts, one piece each. */
export function withReadings(run: Run, ...raws: string[]): Run {
  return walk(run, ...raws.map((raw): Command => ({ type: 'record-reading', measured: measuredFrom(raw) })));
}
