import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { LiveLine } from '../../../main/command/liveLine.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

function terminal(isTTY: boolean) {
  const written: string[] = [];
  return { written, isTTY, write: (text: string) => written.push(text) > 0 };
}

test('says how far long work is in one line that is written over, not at every telling, and takes it away', () => {
  const on = terminal(true);
  const line = new LiveLine('Verifying a.csv', on as never);
  line.tell({ step: 'rows-read', done: 1000, of: 100_000 });
  expect(on.written).toEqual([]);
  vi.advanceTimersByTime(300);
  line.tell({ step: 'rows-read', done: 12_000, of: 100_000 });
  line.tell({ step: 'rows-read', done: 13_000, of: 100_000 });
  const said = '\r\u001b[KVerifying a.csv: 12\u00a0000 of 100\u00a0000 rows read (Ctrl-C stops) ';
  expect(on.written).toEqual([said]);
  line.end();
  line.end();
  expect(on.written).toEqual([said, '\r\u001b[K']);
});

test('says nothing where standard error is no terminal, and of work that is soon done', () => {
  const off = terminal(false);
  const line = new LiveLine('Verifying a.csv', off as never);
  vi.advanceTimersByTime(1000);
  line.tell({ step: 'figures', done: 1, of: 4 });
  line.end();
  const on = terminal(true);
  new LiveLine('Verifying a.csv', on as never).end();
  expect([...off.written, ...on.written]).toEqual([]);
});
