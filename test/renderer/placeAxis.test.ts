import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HALF, placesOf, WIDE } from '../../renderer/charts/placeAxis.ts';

const shown = (names: readonly string[], room?: number) => {
  const { ticks, text } = placesOf(names, room);
  return ticks.map(text);
};

describe('names below an axis', () => {
  it('stand in full where there is room', () => {
    expect(shown(['Ana', 'Ben', 'Caro'], HALF)).toEqual(['Ana', 'Ben', 'Caro']);
    const sessions = ['run 1, session 1', 'run 1, session 2', 'run 2, session 1', 'run 2, session 2'];
    expect(shown(sessions)).toEqual(sessions);
  });

  it('leave out what they all begin with where there is none, so that they can be told apart', () => {
    const names = Array.from({ length: 10 }, (_, index) => `Operator of the second shift ${index + 1}`);
    const texts = shown(names, HALF);
    expect(texts).toEqual(['…1', '…2', '…3', '…4', '…5', '…6', '…7', '…8', '…9', '…10']);
    const lots = ['LOT-2026-000000017', 'LOT-2026-000000018', 'LOT-2026-000000117'];
    expect(shown(lots, HALF)).toEqual(['…017', '…018', '…117']);
  });

  it('never take more room than there is, whatever they are', () => {
    fc.assert(
      fc.property(fc.array(fc.string(), { maxLength: 60 }), fc.constantFrom(HALF, WIDE), (names, room) => {
        const texts = shown(names, room);
        expect(texts.reduce((sum, text) => sum + text.length + 1, 0)).toBeLessThanOrEqual(room);
        expect(texts.length).toBeGreaterThanOrEqual(Math.min(names.length, 6));
      }),
    );
  });
});
