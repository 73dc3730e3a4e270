import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderOf, turnOf } from '../../../core/study/order.ts';
import { readingsOf } from '../../../core/study/study.ts';
import { type StudyChoice, studyChoice, turnsOf } from '../../../core/study/studyPlan.ts';

const choice = (of: Partial<StudyChoice> = {}): StudyChoice =>
  studyChoice.parse({
    kind: 'study',
    design: 'crossed',
    pieces: 5,
    operators: ['Ana', 'Ben', 'Cleo'],
    repeats: 3,
    seed: 1,
    ...of,
  });

const anyChoice = fc.oneof(
  fc.record({
    design: fc.constant('crossed' as const),
    pieces: fc.integer({ min: 2, max: 50 }),
    operators: fc.integer({ min: 2, max: 10 }).map((count) => [...'ABCDEFGHIJ'].slice(0, count)),
    repeats: fc.integer({ min: 2, max: 20 }),
    seed: fc.integer({ min: 0, max: 0xffff_ffff }),
  }),
  fc.record({
    design: fc.constant('single' as const),
    pieces: fc.integer({ min: 1, max: 5 }),
    operators: fc.constant<string[]>(['A']),
    repeats: fc.integer({ min: 2, max: 10 }),
    sessions: fc.integer({ min: 1, max: 20 }),
    runs: fc.integer({ min: 1, max: 10 }),
    seed: fc.integer({ min: 0, max: 0xffff_ffff }),
  }),
);

describe('the order of a study', () => {
  it('has every piece, operator, repeat, session and run once, round by round (property)', () => {
    fc.assert(
      fc.property(anyChoice, (of) => {
        const plan = choice(of);
        const order = orderOf(plan);
        expect(order).toHaveLength(turnsOf(plan));
        const keys = order.map(({ piece, operator, repeat, session, run }) =>
          [piece, operator, repeat, session, run].join(),
        );
        expect(new Set(keys).size).toBe(order.length);
        expect(order.map(({ turn }) => turn)).toEqual(order.map((_, index) => index + 1));
        // Rounds one after the other; within a round each operator's pieces together.
        const rounds = order.map(({ run, session, repeat }) => (run * 100 + session) * 100 + repeat);
        expect(rounds).toEqual(rounds.toSorted((a, b) => a - b));
        for (let start = 0; start < order.length; start += plan.pieces) {
          const block = order.slice(start, start + plan.pieces);
          expect(new Set(block.map(({ operator }) => operator)).size).toBe(1);
          expect(new Set(block.map(({ piece }) => piece)).size).toBe(plan.pieces);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is the same for the same choice always, and another for another seed', () => {
    expect(orderOf(choice())).toEqual(orderOf(choice()));
    const distinct = new Set(
      Array.from({ length: 200 }, (_, seed) => JSON.stringify(orderOf(choice({ seed })).map(({ piece }) => piece))),
    );
    expect(distinct.size).toBe(200);
  });

  it('is that of earlier versions: records and files keep a seed and no order', () => {
    const order = orderOf(choice({ pieces: 4, operators: ['Ana', 'Ben'], repeats: 2, seed: 20261125 }));
    expect(order.map(({ operator, piece }) => `${operator}${piece}`).join(' ')).toMatchInlineSnapshot(
      `"Ana1 Ana3 Ana2 Ana4 Ben4 Ben3 Ben2 Ben1 Ana3 Ana1 Ana2 Ana4 Ben4 Ben2 Ben1 Ben3"`,
    );
  });

  // Every place in the first round should see every piece alike: chi-squared with 9 degrees of freedom stays below 27.88
  // (upper 0.1 % point, standard tables).
  it('favours no piece', () => {
    const counts = Array.from({ length: 10 }, () => 0);
    for (let seed = 0; seed < 2000; seed += 1) {
      const first = orderOf(choice({ pieces: 10, seed }))[0]?.piece ?? 0;
      counts[first - 1] = (counts[first - 1] ?? 0) + 1;
    }
    const chiSquared = counts.reduce((total, count) => total + (count - 200) ** 2 / 200, 0);
    expect(chiSquared).toBeLessThan(27.88);
  });

  it('says what a turn is, and refuses one it does not have', () => {
    const plan = choice();
    expect(turnOf(plan, 1)).toEqual(orderOf(plan)[0]);
    for (const turn of [0, 46, 1.5, -1, Number.NaN]) {
      expect(() => turnOf(plan, turn)).toThrowError(expect.objectContaining({ code: 'study-turn-unknown' }));
    }
  });

  it('gives measured values their places, and names turns without one', () => {
    const plan = choice();
    const of = readingsOf(plan, (turn) => String(4700 + turn));
    const { piece, operator, repeat } = turnOf(plan, 17);
    expect(of.readings[16]).toEqual({ piece: String(piece), operator, repeat, ohms: '4717' });
    expect(() => readingsOf(plan, (turn) => (turn === 17 ? null : '4700'))).toThrowError(
      expect.objectContaining({
        code: 'study-readings-missing',
        what: expect.stringContaining(`turn 17 (piece ${piece}, ${operator}, repeat ${repeat})`),
      }),
    );
  });
});
