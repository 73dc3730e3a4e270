import { describe, expect, it } from 'vitest';
import { lotNotes } from '../../renderer/decide/lotNotes.ts';
import { readyRun, withReadings } from '../core/inspection/walk.ts';

const run = (values: readonly number[]) =>
  withReadings(
    readyRun({ plan: { sampleSize: values.length + 1, accept: values.length } }),
    ...values.map((value) => value.toFixed(2)),
  );
/** Quantiles of an even spread from -1 to 1, in an order that has no trend. */
const even = Array.from({ length: 49 }, (_, index) => (((index * 19) % 49) + 0.5) / 24.5 - 1);

describe('what is said of a lot to who decides it', () => {
  it('is nothing of a lot that looks like a process of its own', () => {
    expect(lotNotes(readyRun())).toEqual([]);
    // The logistic quantile stands in for the normal one.
    expect(lotNotes(run(even.map((u) => 4700 + 5 * Math.log((1 + u) / (1 - u)))))).toEqual([]);
  });

  it('is that the best pieces were picked out, though every piece passes', () => {
    const [note, ...more] = lotNotes(run(even.map((u) => 4700 + Math.sign(u) * 22 + u * 20)));
    expect(note).toMatch(/^It may be: sorted lot\. Only 1 of 49 pieces lie between .* picked out\.$/);
    expect(more).toEqual([]);
  });

  it('is where the value leaves the window further along the reel', () => {
    // So even a spread also has no tails, which is another note.
    const notes = lotNotes(run(even.map((u, index) => 4660 + index + u)));
    expect(notes.at(-1)).toMatch(/At this slope piece \d+ leaves the window at its upper limit/);
  });
});
