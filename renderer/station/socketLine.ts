import type { Answers, Asked, News, Question, RequestName, Told } from '../../core/contract/contract.ts';
import { Problem, problem } from '../../core/problem/problem.ts';
import type { StationLine } from './stationLine.ts';

const FIRST_PAUSE_MILLISECONDS = 250;
const LONGEST_PAUSE_MILLISECONDS = 4000;

interface Waiting {
  resolve: (answer: never) => void;
  reject: (problem: Problem) => void;
}

/**
 * The station over a WebSocket. When the line drops, every question still open fails with `station-away` (it may or may
 * not have been done: whoever asked looks at the entries again) and the line is built anew until it holds.
 * @param address like `ws://127.0.0.1:4700/station`
 */
export function socketLine(address: string): StationLine {
  const waiting = new Map<number, Waiting>();
  const listeners = new Set<(news: News) => void>();
  const watchers = new Set<(up: boolean) => void>();
  let socket: WebSocket;
  let up = false;
  let lastId = 0;
  let pause = FIRST_PAUSE_MILLISECONDS;

  function setUp(now: boolean): void {
    up = now;
    for (const hear of watchers) hear(now);
  }

  function hear(told: Told): void {
    if ('news' in told) {
      for (const listener of listeners) listener(told.news);
      return;
    }
    const asked = waiting.get(told.id);
    if (!asked) return;
    waiting.delete(told.id);
    if ('problem' in told) asked.reject(new Problem(told.problem));
    else asked.resolve(told.answer as never);
  }

  function connect(): void {
    socket = new WebSocket(address);
    socket.addEventListener('open', () => {
      pause = FIRST_PAUSE_MILLISECONDS;
      setUp(true);
    });
    socket.addEventListener('message', (event) => hear(JSON.parse(String(event.data)) as Told));
    socket.addEventListener('close', () => {
      for (const asked of waiting.values()) asked.reject(problem('station-away'));
      waiting.clear();
      setUp(false);
      setTimeout(connect, pause);
      pause = Math.min(pause * 2, LONGEST_PAUSE_MILLISECONDS);
    });
  }

  connect();
  return {
    door: 'loopback',
    ask<N extends RequestName>(name: N, question: Question<N>): Promise<Answers[N]> {
      if (!up) return Promise.reject(problem('station-away'));
      const id = ++lastId;
      const asked: Asked = { id, name, question };
      return new Promise<Answers[N]>((resolve, reject) => {
        waiting.set(id, { resolve: resolve as Waiting['resolve'], reject });
        socket.send(JSON.stringify(asked));
      });
    },
    listen(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    watch(watcher) {
      watchers.add(watcher);
      watcher(up);
      return () => watchers.delete(watcher);
    },
  };
}
