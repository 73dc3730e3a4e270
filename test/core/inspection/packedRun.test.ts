import fc from 'fast-check';
import { is } from 'immutable';
import { describe, expect, it } from 'vitest';
import { apply } from '../../../core/inspection/apply.ts';
import { decide } from '../../../core/inspection/decide.ts';
import { type InspectionEvent, inspectionEvent } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { PAGE, packHead, packReadings, Unpacking } from '../../../core/inspection/packedRun.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { anyCommand, anyTerms } from './anyCommand.ts';
import { badCheck, readyRun, timeAt, withReadings } from './walk.ts';

/** As it goes over a door. */
function sent<T>(packed: T): T {
  return JSON.parse(JSON.stringify(packed)) as T;
}

function unpackedOf(run: Run, readingsOfPage = PAGE): Run {
  const unpacking = new Unpacking(sent(packHead(run)));
  while (!unpacking.isWhole) unpacking.add(sent(packReadings(run, unpacking.size, readingsOfPage)));
  return unpacking.run();
}

function expectSame(unpacked: Run, run: Run): void {
  const { readings, history, taken, ...facts } = unpacked;
  const { readings: readingsThere, history: historyThere, taken: takenThere, ...factsThere } = run;
  expect(facts).toStrictEqual(factsThere);
  expect(readings.toArray()).toStrictEqual(readingsThere.toArray());
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

describe('a packed run', () => {
  it('is the very run again when it is unpacked, whatever was done in it, on pages of any size', () => {
    let [voided, suspect, pages, placed] = [0, 0, 0, 0];
    fc.assert(
      fc.property(
        anyTerms,
        anyPositions,
        fc.array(anyCommand, { minLength: 8, maxLength: 60 }),
        fc.integer({ min: 1, max: 7 }),
        (terms, positions, steps, size) => {
          const isStudy = terms.plan !== undefined && 'study' in terms.plan;
          let run: Run = readyRun(isStudy ? terms : { ...terms, positions });
          for (const [second, step] of steps.entries()) {
            for (const command of step(run)) {
              const events = decide(run, command, timeAt(second));
              if (Array.isArray(events)) for (const event of events) run = apply(run, fromRecord(event));
            }
          }
          expectSame(unpackedOf(run, size), run);
          voided += run.tally.voided;
          suspect += run.tally.suspect;
          if (run.taken.size > 0) placed++;
          if (run.readings.size > size) pages++;
        },
      ),
      { numRuns: 200 },
    );
    // The walk must have come where it is packed differently.
    expect(voided).toBeGreaterThan(0);
    expect(suspect).toBeGreaterThan(0);
    expect(pages).toBeGreaterThan(0);
    expect(placed).toBeGreaterThan(0);
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
    const odd: Run = { ...run, readings: run.readings.clear().push(...readings) };
    expectSame(unpackedOf(odd, 100), odd);
  });

  it('takes no page but the next one, and is no run before all are there', () => {
    const run = withReadings(readyRun(), '4702.1', '4702.2', '4702.3');
    const unpacking = new Unpacking(packHead(run));
    expect(() => unpacking.add(packReadings(run, 1))).toThrow(/came after 0/);
    unpacking.add(packReadings(run, 0, 2));
    expect(() => unpacking.run()).toThrow(/2 of 3/);
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
    const packed = JSON.stringify(packReadings(run, 0)).length;
    expect(packed).toBeLessThan(JSON.stringify(events).length / 5);
  });
});
