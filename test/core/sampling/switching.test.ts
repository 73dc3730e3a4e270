import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LimitNumber, type SwitchingLot, switchingState } from '../../../core/sampling/switching.ts';

type Severity = SwitchingLot['severity'];

/** A stand-in for MIL-STD-105E, Table VIII, of our own making: none below 130 units, then one for every hundred. */
const LIMITS: LimitNumber = (units) => (units < 130 ? null : Math.floor(units / 100));

let run = 0;
function lotOf(
  changes: Partial<SwitchingLot> & { accept?: number; second?: SwitchingLot['plan']['second'] } = {},
): SwitchingLot {
  const { accept = 2, second = null, ...more } = changes;
  run++;
  return {
    lot: `L${run}`,
    run,
    standard: 'MIL-STD-105E',
    severity: 'normal',
    accepted: true,
    nonconforming: 0,
    sampled: 20,
    plan: { aql: '1.0', sampleSize: 20, accept, reject: accept + 1, second, acceptedAtNextTighterAql: true },
    offeredAgain: false,
    override: null,
    ...more,
  };
}
const good = (changes: Parameters<typeof lotOf>[0] = {}) => lotOf(changes);
const bad = (changes: Parameters<typeof lotOf>[0] = {}) => lotOf({ accepted: false, nonconforming: 5, ...changes });
const many = (count: number, make: () => SwitchingLot) => Array.from({ length: count }, make);
const tightened = { severity: 'tightened' } as const;
const reduced = { severity: 'reduced' } as const;
const iso = { standard: 'ISO 2859-1' } as const;
const by = (severity: Severity) => ({ override: { severity, by: 'K. Ito', reason: 'new process' }, severity });
const state = (lots: SwitchingLot[]) => switchingState(lots, LIMITS);

describe('switching, clause by clause', () => {
  it('starts on normal inspection (MIL-STD-105E, 4.6.1; ISO 2859-1, 9.1)', () => {
    expect(state([])).toMatchObject({ severity: 'normal', reducedAllowed: false, score: null, behind: [] });
    expect(state([]).why).toBe('Normal: inspection starts so (MIL-STD-105E, 4.6.1; ISO 2859-1, 9.1).');
  });

  it.each([
    [[false, false], 'tightened'],
    [[false, true, false], 'tightened'],
    [[false, true, true, true, false], 'tightened'],
    [[false, true, true, true, true, false], 'normal'],
    [[true, true, false, true, true, true, true, true, false], 'normal'],
  ])(
    'to tightened when two of at most five in a row are not accepted (4.7.1; 9.3.1): %j is %s',
    (history, severity) => {
      for (const standard of ['MIL-STD-105E', 'ISO 2859-1'] as const) {
        expect(state(history.map((accepted) => lotOf({ accepted, standard }))).severity).toBe(severity);
      }
    },
  );

  it('says which lots made it tightened, and what comes next', () => {
    const lots = [good(), bad(), good(), bad(), good(tightened)];
    const [, first, , second, last] = lots.map((lot) => lot.run);
    const found = state(lots);
    expect(found).toMatchObject({ severity: 'tightened', consecutiveAccepted: 1, notAcceptedOnTightened: 0 });
    expect(found.behind).toEqual([first, second, last]);
    expect(found.lastFive).toEqual([{ run: last, lot: `L${last}`, accepted: true }]);
    expect(found.why).toBe(
      `Tightened: 2 of 3 lots in a row were not accepted, runs ${first} and ${second} (MIL-STD-105E, 4.7.1). 1 lot accepted in a row; 5 make it normal (MIL-STD-105E, 4.7.2). 0 not accepted since it began; 5 discontinue inspection (MIL-STD-105E, 4.8).`,
    );
  });

  it('to normal when five in a row are accepted on tightened (4.7.2; 9.3.2), and counts begin anew', () => {
    const lots = [bad(), bad(), ...many(4, () => good(tightened))];
    expect(state(lots).severity).toBe('tightened');
    expect(state([...lots, good(tightened)]).severity).toBe('normal');
    expect(state([...lots, bad(tightened), good(tightened)]).severity).toBe('tightened');
    // One not accepted on normal again is one, not the third.
    expect(state([...lots, good(tightened), bad()]).severity).toBe('normal');
  });

  it('is discontinued at five not accepted since tightened began, in a row or not (4.8; 9.4)', () => {
    const lots = [bad(), bad(), ...many(4, () => bad(tightened))];
    expect(state(lots)).toMatchObject({ severity: 'tightened', notAcceptedOnTightened: 4 });
    const mixed = [...lots, good(tightened), good(tightened), bad(tightened)];
    expect(state(mixed)).toMatchObject({ severity: 'discontinued', notAcceptedOnTightened: 5, reducedAllowed: false });
    // Nothing but a person resumes it, and then it is tightened whatever the person set.
    expect(state([...mixed, ...many(9, () => good(tightened))]).severity).toBe('discontinued');
    const resumed = state([...mixed, good({ ...by('normal'), severity: 'tightened' })]);
    expect(resumed).toMatchObject({ severity: 'tightened', consecutiveAccepted: 1, notAcceptedOnTightened: 0 });
    expect(resumed.why).toMatch(/K\. Ito resumed discontinued inspection with run \d+: new process/);
  });

  it('allows reduced after ten accepted within the limit number (105E 4.7.3 a, b), and leaves the rest to a person (c, d)', () => {
    expect(state(many(9, good))).toMatchObject({ severity: 'normal', reducedAllowed: false });
    const ten = state(many(10, good));
    expect(ten).toMatchObject({ severity: 'normal', reducedAllowed: true, score: null });
    expect(ten.why).toMatch(
      /0 nonconforming in the 200 pieces measured of the last 10 lots, and the limit number is 2/,
    );
    expect(state([...many(9, good), good({ nonconforming: 2 })]).reducedAllowed).toBe(true);
    expect(state([...many(8, good), ...many(2, () => good({ nonconforming: 2 }))]).reducedAllowed).toBe(false);
    // Older lots than the ten do not count, and one not accepted begins the row anew.
    expect(state([good({ nonconforming: 2 }), good({ nonconforming: 2 }), ...many(10, good)]).reducedAllowed).toBe(
      true,
    );
    expect(state([...many(9, good), bad(), ...many(9, good)]).reducedAllowed).toBe(false);
  });

  it('takes more than ten lots where ten have too few units (note to Table VIII), and says where all have', () => {
    const small = () => good({ sampled: 13 });
    expect(state(many(10, small)).reducedAllowed).toBe(true);
    const smaller = () => good({ sampled: 10 });
    expect(state(many(12, smaller)).reducedAllowed).toBe(false);
    expect(state(many(12, smaller)).why).toMatch(/120 pieces measured of the last 12 lots are too few/);
    expect(state(many(13, smaller)).reducedAllowed).toBe(true);
  });

  it('never allows reduced under 105E without Table VIII, or of more than one AQL, and says so', () => {
    const without = switchingState(many(30, good), null);
    expect(without.reducedAllowed).toBe(false);
    expect(without.why).toMatch(/Table VIII are not at hand/);
    const other = good();
    const mixed = state([...many(9, good), { ...other, plan: { ...other.plan, aql: '1.5' } }]);
    expect(mixed.reducedAllowed).toBe(false);
    expect(mixed.why).toMatch(/different AQLs/);
  });

  it('keeps the switching score of ISO 2859-1, 9.3.3.2', () => {
    const score = (...lots: SwitchingLot[]) => state(lots).score;
    const tighter = (known: boolean | null) => {
      const lot = good(iso);
      return { ...lot, plan: { ...lot.plan, acceptedAtNextTighterAql: known } };
    };
    expect(score(good(iso))).toBe(3);
    expect(score(good({ ...iso, accept: 1 }))).toBe(2);
    expect(score(good({ ...iso, accept: 0 }), good(iso))).toBe(5);
    expect(score(good(iso), tighter(false))).toBe(0);
    expect(score(good(iso), tighter(null))).toBe(0);
    expect(score(good(iso), good(iso), bad(iso), good(iso))).toBe(3);
    const second = { sampleSize: 20, accept: 3, reject: 4 };
    expect(score(good({ ...iso, second }))).toBe(3);
    expect(score(good(iso), good({ ...iso, second, sampled: 40 }))).toBe(0);
    expect(state(many(9, () => good(iso)))).toMatchObject({ score: 27, reducedAllowed: false });
    expect(state(many(10, () => good(iso)))).toMatchObject({ score: 30, reducedAllowed: true });
    expect(state(many(10, () => good(iso))).behind).toHaveLength(10);
    // Not kept off normal inspection, and from 0 when that begins again.
    expect(state([...many(10, () => good(iso)), good({ ...iso, ...by('reduced') })]).score).toBe(null);
    expect(score(bad(iso), bad(iso), ...many(5, () => good({ ...iso, ...tightened })))).toBe(0);
  });

  it('leaves the score of a lot measured whole where it was, and sets it to 0 when that is not accepted', () => {
    const whole = { ...iso, everyPiece: true };
    expect(state([good(iso), good(whole)]).score).toBe(3);
    expect(state([good(iso), bad(whole)]).score).toBe(0);
    expect(state([bad(whole), bad(whole)]).severity).toBe('tightened');
  });

  it('to normal from reduced: not accepted (4.7.4 a; 9.3.4), or between Ac and Re under 105E (4.7.4 b)', () => {
    const begin = (standard: SwitchingLot['standard']) => [
      ...many(10, () => good({ standard })),
      good({ standard, ...by('reduced') }),
    ];
    const gap = (standard: SwitchingLot['standard'], nonconforming: number, changes: object = {}) => {
      const lot = good({ standard, ...reduced, nonconforming, ...changes });
      return { ...lot, plan: { ...lot.plan, accept: 1, reject: 4 } };
    };
    for (const standard of ['MIL-STD-105E', 'ISO 2859-1'] as const) {
      expect(state(begin(standard)).severity).toBe('reduced');
      expect(state([...begin(standard), good({ standard, ...reduced })]).severity).toBe('reduced');
      expect(state([...begin(standard), bad({ standard, ...reduced })]).severity).toBe('normal');
      // Inspected with a stricter plan and not accepted: it ends reduced inspection all the same.
      expect(state([...begin(standard), bad({ standard })]).severity).toBe('normal');
      expect(state([...begin(standard), gap(standard, 1)]).severity).toBe('reduced');
    }
    for (const found of [2, 3])
      expect(state([...begin('MIL-STD-105E'), gap('MIL-STD-105E', found)]).severity).toBe('normal');
    expect(state([...begin('ISO 2859-1'), gap('ISO 2859-1', 2)]).severity).toBe('reduced');
    // Double sampling: the numbers of the sample that decided.
    const second = { sampleSize: 20, accept: 4, reject: 7 };
    const double = (nonconforming: number) => {
      const lot = gap('MIL-STD-105E', nonconforming, { sampled: 40 });
      return { ...lot, plan: { ...lot.plan, second } };
    };
    expect(state([...begin('MIL-STD-105E'), double(3)]).severity).toBe('reduced');
    expect(state([...begin('MIL-STD-105E'), double(5)]).severity).toBe('normal');
  });

  it('does not count lots offered again (original inspection)', () => {
    const again = { offeredAgain: true };
    expect(state([bad(), bad(again), good(), good(), good(), good(again), bad()]).severity).toBe('tightened');
    expect(state([bad(), bad(again)]).severity).toBe('normal');
    expect(state([bad(), bad(), ...many(4, () => good(tightened)), good({ ...tightened, ...again })]).severity).toBe(
      'tightened',
    );
  });

  it('takes an override as the state from that lot on, with counts anew', () => {
    expect(state([bad(), good({ ...by('normal') }), bad()]).severity).toBe('normal');
    const set = state([good(), bad({ ...by('tightened') })]);
    expect(set).toMatchObject({ severity: 'tightened', notAcceptedOnTightened: 1 });
    expect(set.why).toMatch(/^Tightened: set by K\. Ito with run \d+: new process\. /);
  });

  it('does not count lots inspected with another severity, and says how many', () => {
    const found = state([bad(), bad(tightened), bad(tightened), good()]);
    expect(found).toMatchObject({ severity: 'normal', consecutiveAccepted: 1 });
    expect(found.why).toMatch(/2 lots inspected with another severity than the one in force do not count\./);
  });

  it('keeps severity and counts where the standard changes, but the score and the ten lots are of one', () => {
    expect(state([bad(iso), bad()]).severity).toBe('tightened');
    expect(state([...many(5, () => good(iso)), ...many(9, good)]).reducedAllowed).toBe(false);
    expect(state([...many(5, () => good(iso)), ...many(10, good)]).reducedAllowed).toBe(true);
    expect(state([...many(5, () => good(iso)), good(), good(iso)]).score).toBe(3);
  });
});

/**
 * The rules written out as slowly as possible: for every lot the whole of what is in force is looked through again. It shares nothing
 * with the code that it checks.
 */
class Clerk {
  inForce: Severity | 'discontinued' = 'normal'; // 4.6.1: normal inspection at the start
  /** Original lots inspected as was in force, since it came into force. */
  book: SwitchingLot[] = [];
  lastStandard: string | null = null;

  enter(lot: SwitchingLot) {
    if (lot.override) {
      // 4.8: tightened inspection is used when it is resumed.
      if (this.inForce === 'discontinued') this.inForce = 'tightened';
      else this.inForce = lot.override.severity;
      this.book = [];
    }
    // "Original inspection": resubmitted lots are ignored.
    if (lot.offeredAgain) return;
    this.lastStandard = lot.standard;
    if (this.inForce === 'discontinued') return;
    if (this.inForce === 'reduced') {
      // 4.7.4 a: a lot is not accepted.
      if (!lot.accepted) {
        this.inForce = 'normal';
        this.book = [];
        return;
      }
      if (lot.severity !== 'reduced') return;
      this.book.push(lot);
      // 4.7.4 b: neither the acceptance nor the rejection criteria have been met (105E only).
      let [ac, re] = [lot.plan.accept, lot.plan.reject];
      if (lot.plan.second && lot.sampled > lot.plan.sampleSize) {
        ac = lot.plan.second.accept;
        re = lot.plan.second.reject;
      }
      if (lot.standard === 'MIL-STD-105E' && ac < lot.nonconforming && lot.nonconforming < re) {
        this.inForce = 'normal';
        this.book = [];
      }
      return;
    }
    if (lot.severity !== this.inForce) return;
    this.book.push(lot);
    if (this.inForce === 'normal') {
      // 4.7.1: 2 out of 2, 3, 4 or 5 consecutive lots.
      for (const length of [2, 3, 4, 5]) {
        for (let start = 0; start + length <= this.book.length; start++) {
          let refused = 0;
          for (let i = start; i < start + length; i++) if (!this.book[i]?.accepted) refused += 1;
          if (refused >= 2) this.inForce = 'tightened';
        }
      }
      if (this.inForce === 'tightened') this.book = [];
      return;
    }
    // 4.8: the cumulative number of lots not accepted on original tightened inspection reaches 5.
    let refused = 0;
    for (const each of this.book) if (!each.accepted) refused += 1;
    if (refused === 5) {
      this.inForce = 'discontinued';
      return;
    }
    // 4.7.2: 5 consecutive lots are acceptable.
    for (let start = 0; start + 5 <= this.book.length; start++) {
      let accepted = 0;
      for (let i = start; i < start + 5; i++) if (this.book[i]?.accepted) accepted += 1;
      if (accepted === 5) this.inForce = 'normal';
    }
    if (this.inForce === 'normal') this.book = [];
  }

  row(): number {
    let row = 0;
    for (const lot of this.book) row = lot.accepted ? row + 1 : 0;
    return row;
  }

  /** ISO 2859-1, 9.3.3.2. */
  score(): number | null {
    if (this.inForce !== 'normal' || this.lastStandard !== 'ISO 2859-1') return null;
    let score = 0;
    for (const lot of this.book) {
      if (lot.standard !== 'ISO 2859-1' || !lot.accepted) score = 0;
      else if (lot.everyPiece) score += 0;
      else if (lot.plan.second) score = lot.sampled > lot.plan.sampleSize ? 0 : score + 3;
      else if (lot.plan.accept === 0 || lot.plan.accept === 1) score += 2;
      else if (lot.plan.acceptedAtNextTighterAql === true) score += 3;
      else score = 0;
    }
    return score;
  }

  mayReduce(table: LimitNumber | null): boolean {
    if (this.inForce !== 'normal') return false;
    if (this.lastStandard === 'ISO 2859-1') return (this.score() as number) >= 30;
    if (table === null) return false;
    for (let length = 10; length <= this.book.length; length++) {
      const last = this.book.slice(this.book.length - length);
      // 4.7.3 a: the preceding ten lots have been on normal inspection and none has been rejected.
      if (last.some((lot) => !lot.accepted || lot.standard !== 'MIL-STD-105E')) return false;
      if (new Set(last.map((lot) => lot.plan.aql)).size > 1) return false;
      // 4.7.3 b: total nonconforming in the samples, all samples included; Table VIII, note: more lots where the units are too few.
      const units = last.map((lot) => lot.sampled).reduce((sum, each) => sum + each);
      const limit = table(units, last[0]?.plan.aql as string);
      if (limit !== null) return last.map((lot) => lot.nonconforming).reduce((sum, each) => sum + each) <= limit;
    }
    return false;
  }
}

describe('switching, against the rules written out', () => {
  const anyStep = (goodness: number) =>
    fc.record({
      luck: fc.integer({ min: 1, max: 100 }).map((drawn) => drawn <= goodness),
      follows: fc.integer({ min: 1, max: 20 }).map((drawn) => drawn > 1),
      otherwise: fc.constantFrom('normal' as const, 'tightened' as const, 'reduced' as const),
      iso: fc.integer({ min: 1, max: 40 }).map((drawn) => drawn === 1),
      aql: fc.integer({ min: 1, max: 60 }).map((drawn) => (drawn === 1 ? '1.5' : '1.0')),
      sampled: fc.constantFrom(8, 13, 20, 20, 40),
      nonconforming: fc.constantFrom(0, 0, 0, 0, 0, 1, 2, 3),
      accept: fc.constantFrom(0, 1, 2, 2),
      gap: fc.constantFrom(1, 1, 3),
      double: fc.integer({ min: 1, max: 8 }).map((drawn) => drawn === 1),
      tighter: fc.constantFrom(true, true, true, true, true, true, false, null),
      again: fc.integer({ min: 1, max: 12 }).map((drawn) => drawn === 1),
      whole: fc.integer({ min: 1, max: 15 }).map((drawn) => drawn === 1),
      override: fc.integer({ min: 1, max: 30 }).map((drawn) => drawn === 1),
    });
  const anyHistory = fc
    .tuple(fc.constantFrom(30, 60, 85, 97), fc.boolean(), fc.boolean())
    .chain(([goodness, mostlyIso, withTable]) =>
      fc.tuple(
        fc.array(anyStep(goodness), { maxLength: 60, size: 'max' }),
        fc.constant(mostlyIso),
        fc.constant(withTable),
      ),
    );

  it('agrees after every lot (property)', () => {
    const seen = new Map<string, number>();
    const see = (what: string) => seen.set(what, (seen.get(what) ?? 0) + 1);
    fc.assert(
      fc.property(anyHistory, ([steps, mostlyIso, withTable]) => {
        const table = withTable ? LIMITS : null;
        const clerk = new Clerk();
        const lots: SwitchingLot[] = [];
        for (const step of steps) {
          const before = clerk.inForce;
          const asInForce = before === 'discontinued' ? 'tightened' : before;
          // A person turns to reduced inspection now and then where it is allowed.
          const reduce = clerk.mayReduce(table) && step.tighter === true;
          const severity = reduce ? 'reduced' : step.follows ? asInForce : step.otherwise;
          const lot = lotOf({
            standard: mostlyIso !== step.iso ? 'ISO 2859-1' : 'MIL-STD-105E',
            severity,
            accepted: step.luck,
            nonconforming: step.nonconforming,
            sampled: step.sampled,
            offeredAgain: step.again,
            everyPiece: step.whole,
            override: reduce || step.override ? { severity, by: 'A. Berg', reason: 'agreed' } : null,
          });
          lot.plan = {
            aql: step.aql,
            sampleSize: 20,
            accept: step.accept,
            reject: step.accept + step.gap,
            second: step.double
              ? { sampleSize: 20, accept: step.accept + 1, reject: step.accept + 2 + step.gap }
              : null,
            acceptedAtNextTighterAql: step.tighter,
          };
          lots.push(lot);
          clerk.enter(lot);
          const found = switchingState(lots, table);
          expect(found.severity).toBe(clerk.inForce);
          expect(found.score).toBe(clerk.score());
          expect(found.reducedAllowed).toBe(clerk.mayReduce(table));
          expect(found.consecutiveAccepted).toBe(clerk.row());
          const onTightened = clerk.inForce === 'tightened' || clerk.inForce === 'discontinued';
          expect(found.notAcceptedOnTightened).toBe(
            onTightened ? clerk.book.filter((each) => !each.accepted).length : 0,
          );
          expect(found.lastFive.map((each) => each.run)).toEqual(clerk.book.slice(-5).map((each) => each.run));
          expect(found.why).not.toMatch(/undefined|NaN|null/);
          expect([...found.behind].sort((a, b) => a - b)).toEqual(found.behind);
          see(`${before} to ${found.severity}`);
          if (found.reducedAllowed) see(`reduced allowed, ${lot.standard}`);
        }
      }),
      { numRuns: 1600 },
    );
    // The histories must have gone every way that the rules know, or nothing was compared.
    for (const way of [
      'normal to tightened',
      'tightened to normal',
      'tightened to discontinued',
      'discontinued to discontinued',
      'discontinued to tightened',
      'normal to reduced',
      'reduced to reduced',
      'reduced to normal',
      'reduced allowed, MIL-STD-105E',
      'reduced allowed, ISO 2859-1',
    ]) {
      expect(seen.get(way) ?? 0, way).toBeGreaterThan(0);
    }
  });

  it('goes through ten thousand lots at once', () => {
    const lots = many(10_000, good);
    const found = state(lots);
    expect(found).toMatchObject({ severity: 'normal', reducedAllowed: true, consecutiveAccepted: 10_000 });
    expect(found.behind).toEqual(lots.slice(-10).map((lot) => lot.run));
  });
});
