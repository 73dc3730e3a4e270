import { expect, it } from 'vitest';
import type { Run } from '../../core/inspection/run.ts';
import { planFor } from '../../core/sampling/plan.ts';
import { tallySentence } from '../../renderer/words/plan.ts';

it('says how far the sample is, in words a newcomer takes the right way', () => {
  const tally: Run['tally'] = {
    counted: 41,
    pass: 40,
    failLow: 1,
    failHigh: 0,
    open: 0,
    nonconforming: 1,
    voided: 2,
    suspect: 3,
  };
  const said = (accept: number) => tallySentence(tally, planFor(5000, { kind: 'agreed', sampleSize: 80, accept }));
  expect(said(2)).toBe('41 of 80 measured · 1 nonconforming, the plan accepts up to 2');
  expect(said(0)).toBe('41 of 80 measured · 1 nonconforming, the plan accepts none');
});
