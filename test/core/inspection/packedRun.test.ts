import fc from 'fast-check';
import { is } from 'immutable';
import { describe, expect, it } from 'vitest';
import { apply } from '../../../core/inspection/apply.ts';
import { decide } from '../../../core/inspection/decide.ts';
import { type InspectionEvent, inspectionEvent } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { packRun, unpackRun } from '../../../core/inspection/packedRun.ts';
import { PAGE, Readings } from '../../../core/inspection/readings.ts';
import { counts, type Reading, type Run } from '../../../core/inspection/run.ts';
import { anyCommand, anyTerms } from './anyCommand.ts';
import { badCheck, readyRun, timeAt, withReadings } from './walk.ts';

/** As it goes over a door. */
function sent<T>(packed: T): T {
  return JSON.parse(JSON.stringify(packed)) as T;
}

function unpackedOf(run: Run): Run {
  return unpackRun(sent(packRun(run)));
}

function expectSame(unpacked: Run, run: Run): void {
  const { readings, history, taken, ...facts } = unpacked;
  const { readings: readingsThere, history: historyThere, taken: takenThere, ...factsThere } = run;
  expect(facts).toStrictEqual(factsThere);
  expect(readings.slice()).toStrictEqual(readingsThere.slice());
  expect(history.toArray()).toStrictEqual(historyThere.toArray());
  expect(is(taken, takenThere)).toBe(true);
}

/** Events as the record gives them back: from their text. */
const fromRecord = (event: InspectionEvent): InspectionEvent => inspectionEvent.parse(sent(event));

const anyPositions = fc.constantFrom<LotClaimInput['positions']>(
  { kind: 'as-taken' },
  { kind: 'random', seed: 7 },
  { kind: 'spread' },
);

/** What was done in a run, at most so often on pages of so many readings, as `walked` does it. */
const anyWalk = fc.record({
  terms: anyTerms,
  positions: anyPositions,
  steps: fc.array(anyCommand, { minLength: 8, maxLength: 60 }),
  pageSize: fc.integer({ min: 1, max: 7 }),
});

type Walk = typeof anyWalk extends fc.Arbitrary<infer T> ? T : never;

/**
 * The same events folded twice: into a run that packs none of so few readings, and into one on small pages, which is sent and opened
 * again every few steps.
 */
function walked({ terms, positions, steps, pageSize }: Walk): { run: Run; paged: Run } {
  const isStudy = terms.plan !== undefined && 'study' in terms.plan;
  let run: Run = readyRun(isStudy ? terms : { ...terms, positions });
  let paged: Run = { ...run, readings: Readings.of([], pageSize) };
  for (const [second, step] of steps.entries()) {
    for (const command of step(run)) {
      const events = decide(run, command, timeAt(second));
      if (!Array.isArray(events)) continue;
      for (const event of events) {
        run = apply(run, fromRecord(event));
        paged = apply(paged, fromRecord(event));
      }
    }
    if (second % 5 === 4) {
      const pages = sent(paged.readings.pages(0, Number.POSITIVE_INFINITY));
      paged = { ...paged, readings: Readings.ofPages(pages, pageSize) };
    }
  }
  return { run, paged };
}

describe('a packed run', () => {
  it('is the very run again when it is unpacked, whatever was done in it', () => {
    let [voided, suspect, placed] = [0, 0, 0];
    fc.assert(
      fc.property(anyWalk, (walk) => {
        const { run } = walked(walk);
        expectSame(unpackedOf(run), run);
        voided += run.tally.voided;
        suspect += run.tally.suspect;
        if (run.taken.size > 0) placed++;
      }),
      { numRuns: 200 },
    );
    // The walk must have come where it is packed differently.
    expect(voided).toBeGreaterThan(0);
    expect(suspect).toBeGreaterThan(0);
    expect(placed).toBeGreaterThan(0);
  });

  it('folds the same events to the same run, whatever its readings are packed in, and is looked at alike', () => {
    let [voided, suspect, packed] = [0, 0, 0];
    fc.assert(
      fc.property(anyWalk, fc.nat(40), fc.nat(40), (walk, from, to) => {
        const { run, paged } = walked(walk);
        expectSame(paged, run);
        const all: Reading[] = run.readings.slice();
        const { readings } = paged;
        expect(readings.size).toBe(all.length);
        expect([...readings]).toStrictEqual(all);
        expect([readings.first(), readings.last()]).toStrictEqual([all[0], all.at(-1)]);
        expect(Array.from({ length: all.length + 2 }, (_, place) => readings.get(place - 1))).toStrictEqual(
          Array.from({ length: all.length + 2 }, (_, place) => all[place - 1]),
        );
        expect(readings.slice(from, to)).toStrictEqual(all.slice(from, to));
        expect(readings.takeLast(from)).toStrictEqual(from === 0 ? [] : all.slice(-from));
        expect(readings.findLast(counts)).toStrictEqual(all.findLast(counts));
        expect(readings.findLast(({ voided }) => voided !== null)).toStrictEqual(
          all.findLast(({ voided }) => voided !== null),
        );
        for (const [index, judged] of [...readings.judged(from, to)].entries()) {
          expect(all[from + index]).toMatchObject(judged);
        }
        expect([...readings.judged(from, to)]).toHaveLength(all.slice(from, to).length);
        voided += run.tally.voided;
        suspect += run.tally.suspect;
        if (all.length >= 2 * walk.pageSize) packed++;
      }),
      { numRuns: 200 },
    );
    expect(voided).toBeGreaterThan(0);
    expect(suspect).toBeGreaterThan(0);
    expect(packed).toBeGreaterThan(0);
  });

  it('goes on with the events that come after as if it had never been packed', () => {
    const before = withReadings(
      readyRun({ plan: { sampleSize: 9, accept: 2 } }),
      '4702.1',
      '4600',
      '+9.9E+37',
      '4701.0',
    );
    const after = decide(before, badCheck(before, 'meter'), timeAt(50)) as InspectionEvent[];
    const voiding = decide(
      before,
      { type: 'void-reading', reading: 2, by: 'Ines Okoro', reason: 'slipped' },
      timeAt(49),
    );
    const later = [...(voiding as InspectionEvent[]), ...after];
    const goOn = (run: Run) => later.reduce<Run>((now, event) => apply(now, event), run);
    expectSame(goOn(unpackedOf(before)), goOn(before));
  });

  it('keeps texts that hold what stands between texts, and values that are all different', () => {
    const run = withReadings(
      readyRun({
        plan: { sampleSize: 400, accept: 9 },
        lot: { number: 'L', size: 400 },
        checks: { everyReadings: 1000 },
      }),
      '4702.1',
    );
    const [first] = run.readings;
    if (!first) throw new Error('no reading');
    const readings = Array.from({ length: 300 }, (_, place) => ({
      ...first,
      reading: place + 1,
      raw: place % 7 === 3 ? `+4.7E+03 ${place}` : `+4.7E+0${place}`,
      // Among so many, quote and backslash stand for places as well.
      uncertainty: { expandedOhms: `0.${place + 1}`, coverageFactor: '2.00' },
    }));
    const odd: Run = { ...run, readings: Readings.of(readings, 100) };
    const pages = sent(odd.readings.pages(0, Number.POSITIVE_INFINITY));
    expectSame({ ...odd, readings: Readings.ofPages(pages, 100) }, { ...run, readings: Readings.of(readings) });
  });

  it('is made of all its pages in their order, and of nothing less', () => {
    const run = {
      ...readyRun(),
      readings: Readings.of(withReadings(readyRun(), '4702.1', '4702.2', '4702.3').readings, 1),
    };
    const { head, pages } = packRun(run);
    expect(pages).toHaveLength(3);
    expect(() => unpackRun({ head, pages: pages.slice(1) })).toThrow(/reading 2 came after 0/);
    expect(() => unpackRun({ head, pages: pages.slice(0, 2) })).toThrow(/2 of 3/);
  });

  it('keeps at least a page of the latest as they are, so that nobody unpacks a page for the last few', () => {
    const template = withReadings(readyRun(), '4702.1').readings.first() as Reading;
    const same = Array.from({ length: 3 * PAGE }, (_, place) => ({ ...template, reading: place + 1 }));
    for (const count of [2 * PAGE - 1, 2 * PAGE, 3 * PAGE - 1]) {
      const readings = Readings.of(same.slice(0, count));
      expect(readings.get(count - 1)).toBe(same[count - 1]);
      expect(readings.get(count - PAGE)).toBe(same[count - PAGE]);
    }
    expect(Readings.of(same).get(0)).not.toBe(same[0]);
  });

  it('takes far less room than its entries', () => {
    const raws = Array.from({ length: 900 }, (_, place) => (4700 + (place % 40) / 10).toFixed(2));
    const claim = {
      plan: { sampleSize: 1000, accept: 9 },
      lot: { number: 'L', size: 1000 },
      checks: { everyReadings: 1000 },
    };
    const events: InspectionEvent[] = [];
    let run = readyRun(claim);
    for (const raw of raws) {
      const decided = decide(
        run,
        { type: 'record-reading', measured: { raw } },
        timeAt(events.length),
      ) as InspectionEvent[];
      events.push(...decided);
      run = decided.reduce<Run>((now, event) => apply(now, event), run);
    }
    const packed = JSON.stringify(run.readings.pages(0, 1)).length;
    expect(packed).toBeLessThan(JSON.stringify(events).length / 5);
  });
});
