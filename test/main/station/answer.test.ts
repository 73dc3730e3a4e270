import { expect, test } from 'vitest';
import type { StationClient } from '../../../core/contract/contract.ts';
import { problem } from '../../../core/problem/problem.ts';
import { answer } from '../../../main/station/answer.ts';

/** A station that notes what it was asked and answers with it, or throws what it was given. */
function noting(thrown?: unknown): StationClient & { asked: unknown[] } {
  const asked: unknown[] = [];
  return {
    asked,
    async ask(name, question) {
      asked.push([name, question]);
      if (thrown !== undefined) throw thrown;
      return { run: 7 } as never;
    },
    listen: () => () => {},
  };
}

test('a good request reaches the station, which checks the question itself', async () => {
  const station = noting();
  const question = { run: 1, disposition: 'accepted', by: 'A. Example' };
  expect(await answer(station, { id: 3, name: 'decide-lot', question })).toEqual({ id: 3, answer: { run: 7 } });
  expect(station.asked).toEqual([['decide-lot', question]]);
});

test.each([
  ['nothing', undefined, 0],
  ['a text', 'overview', 0],
  ['no id', { name: 'overview', question: {} }, 0],
  ['an id that is no number', { id: 'x', name: 'overview', question: {} }, 0],
  ['an unknown request', { id: 4, name: 'shut-down', question: {} }, 4],
  ['the name of an inherited property', { id: 4, name: 'constructor', question: {} }, 4],
  ['a field beside', { id: 4, name: 'overview', question: {}, extra: 1 }, 4],
  ['no question', { id: 4, name: 'overview' }, 4],
])('%s is refused and does not reach the station', async (_what, message, id) => {
  const station = noting();
  expect(await answer(station, message)).toMatchObject({ id, problem: { code: 'input-invalid' } });
  expect(station.asked).toEqual([]);
});

test("the station's problems come back as they are, anything else as a defect", async () => {
  const ask = { id: 1, name: 'overview', question: {} };
  const missing = problem('meter-missing');
  expect(await answer(noting(missing), ask)).toEqual({ id: 1, problem: missing.toJSON() });
  expect(await answer(noting(new TypeError('x is undefined')), ask)).toMatchObject({ problem: { code: 'defect' } });
  expect(await answer(noting('just text'), ask)).toMatchObject({ problem: { code: 'defect' } });
  const throwsAtOnce = { ...noting(), ask: () => expect.unreachable() } as StationClient;
  expect(await answer(throwsAtOnce, ask)).toMatchObject({ id: 1, problem: { code: 'defect' } });
});
