import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analysisOfRun } from '../../../core/inspection/analysisOfRun.ts';
import { apply, fold } from '../../../core/inspection/apply.ts';
import { type Command, decide } from '../../../core/inspection/decide.ts';
import { type InspectionEvent, inspectionEvent } from '../../../core/inspection/event.ts';
import { factsOf, lotClaim, withSeed } from '../../../core/inspection/lotClaim.ts';
import { takenElsewhere } from '../../../core/inspection/positionTaken.ts';
import { counts, nextPiece, nextPosition, pieceToPlace, type Run } from '../../../core/inspection/run.ts';
import { Problem, type ProblemCode } from '../../../core/problem/problem.ts';
import { positionOf } from '../../../core/sampling/positions.ts';
import { badCheck, claimOf, factsOfClaim, readyRun, timeAt, walk, withReadings } from './walk.ts';

const RANDOM = { kind: 'random', seed: 7 } as const;
const GOOD = '+4.70213E+03';
const say = (position: number | null): Command => ({ type: 'say-position', position });
const voidOf = (reading: number): Command => ({ type: 'void-reading', reading, by: 'B', reason: 'slipped' });

/** The code of the problem that refuses a command; null where nothing does. */
function refusedBy(run: Run, command: Command): ProblemCode | null {
  const outcome = decide(run, command, timeAt(100));
  return outcome instanceof Problem ? outcome.code : null;
}
const drawnFor = (run: Run) => [1, 2, 3, 4, 5].map((piece) => positionOf(run, piece) as number);
const positionsOf = (run: Run) => run.readings.slice().map(({ position }) => position);

describe('where pieces are taken', () => {
  it('is where they were drawn, in their order, where nobody says otherwise', () => {
    const run = withReadings(readyRun({ positions: RANDOM }), GOOD, GOOD, GOOD);
    expect(positionsOf(run)).toEqual(drawnFor(run).slice(0, 3));
    expect(nextPosition(run)).toBe(drawnFor(run)[3]);
    expect(pieceToPlace(run)).toBe(drawnFor(run)[3]);
    expect(takenElsewhere(run)).toBe(0);
  });

  it('is where somebody says, for that one piece, and can be taken back', () => {
    let run = readyRun({ positions: RANDOM });
    const drawn = drawnFor(run);
    const elsewhere = (drawn[0] as number) + 1;
    run = walk(run, say(elsewhere));
    expect([nextPosition(run), pieceToPlace(run)]).toEqual([elsewhere, elsewhere]);
    expect(nextPosition(walk(run, say(null)))).toBe(drawn[0]);
    run = withReadings(run, GOOD, GOOD);
    expect(positionsOf(run)).toEqual([elsewhere, drawn[1]]);
    expect(takenElsewhere(run)).toBe(1);
  });

  it('stays the same when a piece is measured again, void or suspect', () => {
    let run = readyRun({ positions: RANDOM });
    const [first, second, third] = drawnFor(run);
    run = withReadings(walk(run, say((first as number) + 1)), GOOD);
    run = withReadings(run, GOOD);
    run = walk(run, voidOf(1));
    expect([nextPiece(run), nextPosition(run)]).toEqual([1, (first as number) + 1]);
    run = withReadings(run, GOOD);
    run = walk(run, badCheck(run, 'meter'));
    expect(run.again).toEqual([1, 2]);
    expect(run.taken.size).toBe(0);
    expect(nextPosition(run)).toBe((first as number) + 1);
    expect([second, third]).not.toContain(nextPosition(run));
  });

  it('is not asked for where another piece was taken: the nearest that nobody is asked for at takes its place', () => {
    let run = readyRun({ positions: { kind: 'spread' }, plan: { sampleSize: 6, accept: 1 } });
    expect([1, 2, 3, 4, 5, 6].map((piece) => positionOf(run, piece))).toEqual([1, 2, 50, 51, 99, 100]);
    run = withReadings(walk(run, say(50)), GOOD, GOOD);
    expect(nextPosition(run)).toBe(49);
    // And where the whole lot is measured, whatever is left.
    let whole = readyRun({ positions: RANDOM, lot: { number: 'L', size: 3 }, plan: { sampleSize: 3, accept: 1 } });
    whole = withReadings(walk(whole, say(3)), GOOD, GOOD);
    expect(positionsOf(whole)).toEqual([3, 2]);
    expect(nextPosition(whole)).toBe(1);
  });

  it('stays said of a piece while one before it is measured again, unless that one comes from there', () => {
    let run = withReadings(readyRun({ positions: RANDOM }), GOOD);
    const second = (drawnFor(run)[1] as number) + 1;
    run = withReadings(walk(run, say(second), voidOf(1)), GOOD);
    expect([nextPiece(run), nextPosition(run)]).toEqual([2, second]);
    // Piece 1 is said to be the one from there instead: what was said of piece 2 cannot hold beside it.
    run = withReadings(walk(run, voidOf(2), say(second)), GOOD);
    expect(run.taken.get(second)).toBe(1);
    expect([nextPiece(run), nextPosition(run)]).toEqual([2, drawnFor(run)[1]]);
  });

  it('is never that of a piece which was counted while somebody said it', () => {
    const run = withReadings(readyRun({ positions: RANDOM }), GOOD);
    const at = (drawnFor(run)[4] as number) - 1;
    expect(refusedBy(run, { ...say(at), piece: 1 } as Command)).toBe('position-of-another-piece');
    expect(refusedBy(run, { ...say(null), piece: 1 } as Command)).toBe('position-of-another-piece');
    expect(refusedBy(run, { ...say(at), piece: 2 } as Command)).toBeNull();
  });

  it.each([RANDOM, { kind: 'spread' } as const])('is the only one of a lot of one piece, %o', (positions) => {
    const run = readyRun({ positions, lot: { number: 'L', size: 1 }, plan: { sampleSize: 1, accept: 0 } });
    expect(nextPosition(run)).toBe(1);
    expect(refusedBy(run, say(2))).toBe('position-outside');
    expect(refusedBy(run, say(1))).toBeNull();
    const done = withReadings(run, GOOD);
    expect([positionsOf(done), nextPosition(done)]).toEqual([[1], null]);
  });

  it('is found at once on a reel of which every piece is measured', () => {
    const size = 50_000;
    let run = readyRun({ positions: RANDOM, lot: { number: 'L', size }, plan: { sampleSize: size, accept: 0 } });
    run = withReadings(walk(run, say(2)), GOOD);
    const times = Array.from({ length: 10 }, () => {
      const began = performance.now();
      expect(nextPosition(run)).toBe(3);
      return performance.now() - began;
    });
    // A search along the whole reel for a place that nobody is asked for at took some 20 ms. The quickest of a few: what a busy
    // machine takes away from one is not ours.
    expect(Math.min(...times)).toBeLessThan(3);
  });

  it('is refused off the reel, where another piece was taken, and where no positions are known', () => {
    const run = withReadings(readyRun({ positions: RANDOM }), GOOD);
    for (const position of [0, -1, 101, 1.5, Number.NaN, 2 ** 60]) {
      expect(refusedBy(run, say(position))).toBe('position-outside');
    }
    expect(refusedBy(run, say(drawnFor(run)[0] as number))).toBe('position-taken');
    expect(refusedBy(run, { type: 'record-reading', measured: { raw: GOOD }, position: 0 })).toBe('position-outside');
    expect(refusedBy(readyRun(), say(3))).toBe('positions-unknown');
    expect(refusedBy(readyRun(), say(null))).toBeNull();
    expect(positionsOf(withReadings(readyRun(), GOOD))).toEqual([null]);
    const complete = withReadings(run, GOOD, GOOD, GOOD, GOOD);
    expect(refusedBy(complete, say(3))).toBe('sample-complete');
    // Its own position is free again once its reading is void.
    expect(refusedBy(walk(run, voidOf(1)), say(drawnFor(run)[0] as number))).toBeNull();
  });

  const anyStep = fc.oneof(
    { weight: 4, arbitrary: fc.constant<Command>({ type: 'record-reading', measured: { raw: GOOD } }) },
    { weight: 3, arbitrary: fc.option(fc.integer({ min: 0, max: 13 }), { freq: 6 }).map(say) },
    { weight: 2, arbitrary: fc.integer({ min: 1, max: 12 }).map(voidOf) },
  );

  it('is never one place for two pieces that count, whatever happens, nor nowhere', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(RANDOM, { kind: 'spread' } as const),
        fc.integer({ min: 1, max: 12 }),
        fc.array(anyStep, { maxLength: 30 }),
        (positions, sampleSize, steps) => {
          let run = readyRun({
            positions,
            lot: { number: 'L', size: 12 },
            plan: { sampleSize, accept: sampleSize - 1 },
          });
          for (const command of steps) {
            const events = decide(run, command, timeAt(50));
            if (!(events instanceof Problem)) run = events.reduce<Run>(apply, run);
            const counting = run.readings.slice().filter(counts);
            expect(new Set(counting.map(({ position }) => position)).size).toBe(counting.length);
            for (const { position } of counting) expect(position).toSatisfy((at: number) => at >= 1 && at <= 12);
            const taken = [...run.taken].sort(([a], [b]) => a - b);
            const wanted = counting.map(({ position, piece }) => [position, piece] as [number, number]);
            expect(taken).toEqual(wanted.sort(([a], [b]) => a - b));
            if (counting.length < sampleSize) {
              const next = nextPosition(run) as number;
              expect(run.taken.has(next)).toBe(false);
            }
          }
        },
      ),
    );
  });

  it('does not matter to records from before: their pieces are as taken', () => {
    const { positions: _, ...facts } = factsOfClaim();
    const { position: __, ...reading } = decided(readyRun())[0] as Extract<InspectionEvent, { type: 'reading-taken' }>;
    const received = inspectionEvent.parse({ type: 'lot-received', at: timeAt(0), facts });
    const taken = inspectionEvent.parse(reading);
    const run = fold([received, taken]);
    expect(run?.positions).toEqual({ kind: 'as-taken' });
    expect(run?.readings.get(0)).toMatchObject({ piece: 1, position: null });
    expect(run && nextPosition(run)).toBeNull();
  });
});

function decided(run: Run): InspectionEvent[] {
  const events = decide(run, { type: 'record-reading', measured: { raw: GOOD } }, timeAt(1));
  if (events instanceof Problem) throw events;
  return events;
}

describe('a claim of positions', () => {
  const of = (positions: unknown) => lotClaim.safeParse({ ...claimOf(), positions });

  it('is as-taken where nothing is said, and draws its seed later where it has none', () => {
    expect(factsOfClaim().positions).toEqual({ kind: 'as-taken' });
    expect(factsOfClaim({ positions: RANDOM }).positions).toEqual(RANDOM);
    const claim = lotClaim.parse({ ...claimOf(), positions: { kind: 'random' } });
    expect(() => factsOf(claim)).toThrow(expect.objectContaining({ code: 'seed-missing' }));
    expect(factsOf(withSeed(claim, 11)).positions).toEqual({ kind: 'random', seed: 11 });
    expect(factsOf(withSeed(lotClaim.parse(claimOf({ positions: RANDOM })), 11)).positions).toEqual(RANDOM);
  });

  it('is refused with seeds that are none, and in a study', () => {
    for (const seed of [-1, 1.5, 2 ** 32, '7', null]) expect(of({ kind: 'random', seed }).success).toBe(false);
    for (const positions of ['random', {}, { kind: 'spread', seed: 1 }]) expect(of(positions).success).toBe(false);
    const study = { design: 'crossed', pieces: 2, operators: ['A', 'B'], repeats: 2, seed: 3 } as const;
    expect(() => factsOfClaim({ plan: { study: { ...study, operators: ['A', 'B'] } }, positions: RANDOM })).toThrow(
      expect.objectContaining({ code: 'positions-of-study' }),
    );
  });
});

describe('the trend of a lot whose positions are known', () => {
  /** Values that lie on a line along the reel, whatever order they were taken in. */
  function onLine(ohmsAPosition: number, swapped: boolean): Run {
    let run = readyRun({
      positions: { kind: 'random', seed: 21 },
      lot: { number: 'L', size: 4000 },
      plan: { sampleSize: 30, accept: 29 },
    });
    for (let piece = 1; piece <= 29; piece++) {
      // Half of the pieces from the other end of the reel.
      if (swapped && piece % 2 === 0) run = walk(run, say(4001 - (nextPosition(run) as number)));
      const noise = ((piece * 7) % 5) / 1000;
      run = withReadings(run, (4700 + ohmsAPosition * (nextPosition(run) as number) + noise).toFixed(3));
    }
    return run;
  }

  it.each([false, true])(
    'is that of the positions, and its words do not take pieces for neighbours (%s)',
    (swapped) => {
      const run = onLine(0.02, swapped);
      const { trend } = analysisOfRun(run).analysis;
      if ('refused' in trend.slope) throw new Error(trend.slope.refused);
      expect(trend.slope.slope).toBeCloseTo(0.02, 4);
      // 4700 + 0.02 x > 4747 from position 2351 on.
      expect(trend.leavesAt?.piece).toBeGreaterThan(2345);
      expect(trend.leavesAt?.piece).toBeLessThan(2357);
      expect(trend.words).toMatch(/At this slope position 2\u00a03\d\d leaves the window at its upper limit/);
      expect(trend.words).not.toContain('one after the other');
    },
  );

  it('says what the end of the reel comes to without that either', () => {
    const { words } = analysisOfRun(onLine(0.002, false)).analysis.trend;
    expect(words).toMatch(/the last of 4\u00a0000 pieces comes to 4708.*, inside the window\.$/);
  });

  it('counts pieces as neighbours, and says so, where positions are not known', () => {
    const raws = Array.from({ length: 29 }, (_, index) => (4690 + index * 0.9 + ((index * 7) % 5) / 100).toFixed(2));
    const run = withReadings(readyRun({ plan: { sampleSize: 30, accept: 29 } }), ...raws);
    expect(analysisOfRun(run).analysis.trend.words).toContain('counted as taken one after the other from the reel');
  });
});
