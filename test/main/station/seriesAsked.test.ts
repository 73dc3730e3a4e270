import { expect, it } from 'vitest';
import type { LotOutcome } from '../../../core/inspection/lotOutcome.ts';
import { seriesAsked } from '../../../main/station/seriesAsked.ts';

const outcome = (run: number, decidedAt: string, shape: string | null, practice = false): LotOutcome => ({
  ...{ run, decidedAt, shape, practice, lot: `L-${run}`, switching: null },
  ...{ part: 'TF-4K7-1', supplier: 'Example Supply', reel: '' },
});

const shapeOf = (...outcomes: LotOutcome[]) =>
  seriesAsked(() => outcomes, {
    part: 'TF-4K7-1',
    supplier: 'Example Supply',
    lot: '',
    reel: '',
    standard: 'MIL-STD-105E',
  }).shape;

it('says why mean and spread do not suit of the real lot that was decided last, and of no lot before it', () => {
  const mixed = outcome(1, '2026-03-02T14:00:00+01:00', 'Two heaps.');
  expect(shapeOf()).toBeNull();
  expect(shapeOf(mixed)).toBe('The lot before, L-1: Two heaps.');
  expect(shapeOf(mixed, outcome(2, '2026-03-03T14:00:00+01:00', null))).toBeNull();
  expect(shapeOf(mixed, outcome(2, '2026-03-03T14:00:00+01:00', null, true))).toContain('L-1');
  // Received before, decided after; 13:30 in UTC is after 14:00 at +01:00.
  expect(shapeOf(mixed, outcome(2, '2026-03-02T13:30:00+00:00', null))).toBeNull();
  expect(
    shapeOf(outcome(1, '2026-03-04T14:00:00+01:00', 'Two heaps.'), outcome(2, '2026-03-03T14:00:00+01:00', null)),
  ).toContain('L-1');
});
