import { describe, expect, it } from 'vitest';
import type { Entry } from '../../core/contract/contract.ts';
import { apply } from '../../core/inspection/apply.ts';
import { type Command, decide } from '../../core/inspection/decide.ts';
import type { InspectionEvent } from '../../core/inspection/event.ts';
import type { Run } from '../../core/inspection/run.ts';
import { worthOf } from '../../core/inspection/worth.ts';
import { subtract } from '../../core/quantity/decimal.ts';
import { CHECKS } from '../../core/readiness/check.ts';
import { benchBefore } from '../../renderer/worth/benchBefore.ts';
import { CAUTIONS, factsOfClaim, goodCheck, METER, timeAt } from '../core/inspection/walk.ts';

/** A run that keeps its entries, as the station does. */
class Told {
  run: Run | null = null;
  readonly entries: Entry[] = [];

  do(command: Command): void {
    const decided = decide(this.run, command, timeAt(this.entries.length));
    if (!Array.isArray(decided)) throw new Error(`refused: ${JSON.stringify(decided)}`);
    for (const event of decided as InspectionEvent[]) {
      this.run = apply(this.run, event);
      this.entries.push({ position: this.entries.length + 1, run: 1, event } as Entry);
    }
  }

  /** All checks, with what the shorted leads show. */
  round(shorted: string): void {
    for (const check of CHECKS) {
      const good = goodCheck(this.run as Run, check);
      const isShorted = check === 'shorted-leads' && good.type === 'check-bench';
      this.do(isShorted ? { ...good, shown: [1, 2, 3].map(() => ({ what: '2-wire', raw: shorted })) } : good);
    }
  }
}

/** Two readings with one zero, a void, and two with another; the coefficient is known, so that values are corrected. */
function twoRounds(): Told {
  const told = new Told();
  const coefficient = { knownPpmPerKelvin: '100', uncertaintyPpmPerKelvin: '10' };
  const facts = factsOfClaim({ temperature: { coefficient }, plan: { sampleSize: 9, accept: 8 } });
  told.do({ type: 'receive-lot', facts });
  told.do({ type: 'connect-meter', meter: METER });
  told.do({ type: 'confirm-bench', by: 'Ines Okoro', cautions: CAUTIONS });
  told.round('0.10');
  told.do({ type: 'record-reading', measured: { raw: '4702.13' } });
  told.do({ type: 'record-reading', measured: { raw: '4710.00' } });
  told.do({ type: 'void-reading', reading: 2, by: 'Ines Okoro', reason: 'slipped' });
  told.round('0.12');
  told.do({ type: 'record-reading', measured: { raw: '4711.05' } });
  told.do({ type: 'record-reading', measured: { raw: '4690.40' } });
  return told;
}

describe('the bench before a reading', () => {
  it('gives every reading the very uncertainty it was judged with, whatever came after it', () => {
    const { entries, run } = twoRounds();
    const readings = (run as Run).readings.toArray();
    expect(readings).toHaveLength(4);
    for (const { reading, ohms, temperatureOhms, raw, at, uncertainty } of readings) {
      const bench = benchBefore(entries, reading);
      if (!bench) throw new Error('no bench');
      const worth = worthOf(bench, { ohms: subtract(ohms as string, temperatureOhms), raw }, at);
      expect(worth.expandedOhms).toBe(uncertainty?.expandedOhms);
      expect(worth.coverageFactor).toBe(uncertainty?.coverageFactor);
    }
  });

  it('has the zero of its own time', () => {
    const { entries, run } = twoRounds();
    for (const reading of [1, 2, 3, 4]) {
      expect(benchBefore(entries, reading)?.zeroOhms).toBe((run as Run).readings.get(reading - 1)?.zeroOhms);
    }
    expect(benchBefore(entries, 1)?.zeroOhms).not.toBe(benchBefore(entries, 4)?.zeroOhms);
  });

  it('is not known where the entries do not hold the reading', () => {
    expect(benchBefore(twoRounds().entries, 5)).toBeNull();
    expect(benchBefore([], 1)).toBeNull();
  });
});
