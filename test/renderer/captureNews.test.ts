import { expect, it } from 'vitest';
import type { Live } from '../../core/contract/contract.ts';
import { problem } from '../../core/problem/problem.ts';
import { captureNews } from '../../renderer/hands/captureNews.ts';

const live = (more: Partial<Live> = {}): Live => ({
  capture: 4,
  run: 1,
  by: 'hands',
  phase: 'settling',
  steady: 1,
  of: 3,
  ohms: null,
  piece: 7,
  ...more,
});

it('says nothing of a capture before this one, nor of how the probes stand', () => {
  expect(captureNews(null, 4)).toBeNull();
  expect(captureNews(live({ capture: 3, phase: 'off' }), 4)).toBeNull();
  expect(captureNews(live(), 4)).toBeNull();
  expect(captureNews(live({ outcome: 'released' }), 4)).toBeNull();
});

it('says what ended it, and that another screen did where nobody says', () => {
  const why = problem('sample-complete').toJSON();
  expect(captureNews(live({ phase: 'off', why }), 4)).toEqual({ ended: why, isTold: true });
  expect(captureNews(live({ phase: 'off' }), 4)).toMatchObject({ ended: { code: 'capture-ended' }, isTold: false });
});

it('has ended when another has taken its place, however that one stands', () => {
  const taken = { ended: { code: 'capture-ended' }, isTold: false };
  expect(captureNews(live({ capture: 5 }), 4)).toMatchObject(taken);
  const why = problem('sample-complete').toJSON();
  expect(captureNews(live({ capture: 5, phase: 'off', why }), 4)).toMatchObject(taken);
});

it('keeps trouble until something else happens at the probes than a release', () => {
  expect(captureNews(live({ outcome: 'trouble', troubleWords: 'It slipped' }), 4)).toEqual({ trouble: 'It slipped' });
  for (const outcome of ['contact', 'captured', 'open-said'] as const) {
    expect(captureNews(live({ outcome }), 4)).toEqual({ trouble: null });
  }
});
