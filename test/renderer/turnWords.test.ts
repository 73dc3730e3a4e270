import { describe, expect, it } from 'vitest';
import { planFor } from '../../core/sampling/plan.ts';
import { orderOf } from '../../core/study/order.ts';
import { studyChoice } from '../../core/study/studyPlan.ts';
import { wouldLead } from '../../renderer/measure/wouldLead.ts';
import { pieceName, pieceOnProbes, takesOver } from '../../renderer/words/turn.ts';

const crossed = studyChoice.parse({
  kind: 'study',
  design: 'crossed',
  pieces: 10,
  operators: ['A', 'B', 'C'],
  repeats: 3,
  seed: 12,
});
const plan = planFor(10, crossed);

describe('a turn of a study in words', () => {
  it('says piece, operator and repeat', () => {
    for (const { turn, piece, operator, repeat } of orderOf(crossed)) {
      expect(pieceName(plan, turn)).toBe(`turn ${turn} of 90: piece ${piece}, operator ${operator}, repeat ${repeat}`);
      expect(pieceOnProbes(plan, turn)).toBe(`piece ${piece}`);
    }
  });

  it('names the operator when they change, and only then', () => {
    const named = orderOf(crossed).flatMap(({ turn }) => takesOver(crossed, turn) ?? []);
    // Three operators in each of three repeats; one who ends a repeat may begin the next.
    expect(named.length).toBeGreaterThanOrEqual(7);
    expect(named.length).toBeLessThanOrEqual(9);
    for (const [index, operator] of named.entries()) expect(operator).not.toBe(named[index - 1]);
    expect(new Set(named)).toEqual(new Set(['A', 'B', 'C']));
  });

  it('leaves out what there is only one of', () => {
    const single = studyChoice.parse({
      kind: 'study',
      design: 'single',
      pieces: 1,
      operators: ['A'],
      repeats: 6,
      sessions: 2,
      seed: 1,
    });
    expect(pieceName(planFor(1, single), 7)).toBe('turn 7 of 12: piece 1, repeat 1, session 2');
    expect(takesOver(single, 1)).toBeNull();
  });

  it('is the piece by its number where nothing is studied', () => {
    expect(pieceName(planFor(5000, { kind: 'agreed', sampleSize: 200, accept: 5 }), 12)).toBe('piece 12');
  });
});

describe('a value still on the screen', () => {
  it('would lead another operator, and anybody at the same piece', () => {
    const order = orderOf(crossed);
    for (const { turn, operator, piece } of order.slice(1)) {
      const before = order[turn - 2];
      expect(wouldLead(crossed, turn - 1, turn)).toBe(before?.operator !== operator || before?.piece === piece);
    }
    expect(order.slice(1).filter(({ turn }) => wouldLead(crossed, turn - 1, turn)).length).toBeGreaterThan(0);
    expect(order.slice(1).filter(({ turn }) => !wouldLead(crossed, turn - 1, turn)).length).toBeGreaterThan(70);
  });
});
