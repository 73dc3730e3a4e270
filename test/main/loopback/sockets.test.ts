import { once } from 'node:events';
import { connect as connectRaw } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, test } from 'vitest';
import type { News } from '../../../core/contract/contract.ts';
import { LONGEST_MESSAGE } from '../../../main/loopback/sockets.ts';
import { servedDoor, told } from './servedDoor.ts';

const NEWS: News = { kind: 'link', link: { state: 'none' } };
const ask = (id: number, name = 'overview', question: unknown = {}): string => JSON.stringify({ id, name, question });

test('requests are answered under their number, and news is told to everybody', async () => {
  const { station, connectAsPage } = await servedDoor();
  const [one, other] = [await connectAsPage(), await connectAsPage()];
  one.send(ask(11, 'take-reading', { run: 2 }));
  expect(await told(one)).toEqual({ id: 11, answer: { name: 'take-reading', question: { run: 2 } } });
  const heard = Promise.all([told(one), told(other)]);
  station.tell(NEWS);
  expect(await heard).toEqual([{ news: NEWS }, { news: NEWS }]);
});

test('no cookie, a foreign page, no origin, a foreign name or another path: no connection', async () => {
  const { connect, letIn, origin, port } = await servedDoor();
  const cookie = await letIn();
  await expect(connect({ origin })).rejects.toThrow('403');
  await expect(connect({ origin, cookie: 'other=1' })).rejects.toThrow('403');
  await expect(connect({ origin: 'https://evil.example', cookie })).rejects.toThrow('403');
  await expect(connect({ origin: 'http://127.0.0.1:1', cookie })).rejects.toThrow('403');
  await expect(connect({ origin: `http://localhost:${port}`, cookie })).rejects.toThrow('403');
  await expect(connect({ origin: 'null', cookie })).rejects.toThrow('403');
  await expect(connect({ cookie })).rejects.toThrow('403');
  await expect(connect({ origin, cookie, host: `evil.example:${port}` })).rejects.toThrow('421');
  await expect(connect({ origin, cookie }, '/')).rejects.toThrow('404');
  await expect(connect({ origin, cookie }, '/station/../station2')).rejects.toThrow('404');
  await connect({ origin, cookie });
});

test('nonsense comes back as a problem, and the connection goes on', async () => {
  const { connectAsPage } = await servedDoor();
  const socket = await connectAsPage();
  const nonsense: [message: string | Buffer, id: number][] = [
    ['{', 0],
    ['null', 0],
    [Buffer.from(ask(1)), 0],
    [ask(5, 'no-such-request'), 5],
    [ask(6, '__proto__'), 6],
  ];
  for (const [message, id] of nonsense) {
    socket.send(message);
    expect(await told(socket)).toMatchObject({ id, problem: { code: 'input-invalid' } });
  }
  socket.send(ask(9));
  expect(await told(socket)).toMatchObject({ id: 9, answer: { name: 'overview' } });
});

test('a message that is too long ends its own connection only', async () => {
  const { connectAsPage } = await servedDoor();
  const [greedy, other] = [await connectAsPage(), await connectAsPage()];
  greedy.send('x'.repeat(LONGEST_MESSAGE + 1));
  const [status] = await once(greedy, 'close');
  expect(status).toBe(1009);
  other.send(ask(1));
  expect(await told(other)).toMatchObject({ id: 1 });
});

test('a flood of requests is answered whole, never more than a few under way at a time', async () => {
  let underWay = 0;
  let most = 0;
  const slow = {
    async ask() {
      underWay += 1;
      most = Math.max(most, underWay);
      await wait(20);
      underWay -= 1;
      return {} as never;
    },
    listen: () => () => {},
  };
  const { connectAsPage } = await servedDoor({ station: slow });
  const socket = await connectAsPage();
  const ids: number[] = [];
  const all = new Promise<void>((resolve) => {
    socket.on('message', (data) => {
      ids.push(JSON.parse(data.toString()).id);
      if (ids.length === 500) resolve();
    });
  });
  // Long requests, so that they do not all arrive in one piece.
  const cautions = new Array(200).fill('x'.repeat(100));
  for (let id = 1; id <= 500; id += 1) socket.send(ask(id, 'confirm-bench', { run: 1, by: 'A. Example', cautions }));
  await all;
  expect(new Set(ids).size).toBe(500);
  expect(most).toBeGreaterThan(1);
  expect(most).toBeLessThan(64);
});

test('a client that reads nothing is cut off instead of filling the memory', async () => {
  const { station, connectAsPage } = await servedDoor();
  const [deaf, other] = [await connectAsPage(), await connectAsPage()];
  deaf.pause();
  const heard = told(other);
  const long = { kind: 'entry', entry: { event: 'x'.repeat(1024 * 1024) } } as unknown as News;
  for (let count = 0; count < 40; count += 1) {
    station.tell(long);
    await new Promise(setImmediate);
  }
  await heard;
  const closed = once(deaf, 'close');
  deaf.resume();
  expect((await closed)[0]).toBe(1006);
  other.send(ask(2));
});

test('a client that answers no ping is dropped, one that does stays', async () => {
  const { connectAsPage } = await servedDoor({ pingMilliseconds: 250 });
  const [alive, dead] = [await connectAsPage(), await connectAsPage({ autoPong: false })];
  let pings = 0;
  alive.on('ping', () => {
    pings += 1;
  });
  await once(dead, 'close');
  const before = pings;
  while (pings < before + 3) await once(alive, 'ping');
  alive.send(ask(1));
  expect(await told(alive)).toMatchObject({ id: 1 });
});

test('when the last client has gone and none comes back readings are no longer captured, for nobody hears them', async () => {
  const { station, connectAsPage } = await servedDoor({ aloneMilliseconds: 300 });
  const [one, other] = [await connectAsPage(), await connectAsPage()];
  one.close();
  await wait(500);
  expect(station.asked).toEqual([]);
  // A page that is loaded anew.
  other.close();
  await wait(100);
  const again = await connectAsPage();
  await wait(500);
  expect(station.asked).toEqual([]);
  again.terminate();
  await wait(600);
  expect(station.asked).toEqual(['stop-capture']);
});

test('closing is immediate, whatever is still open', async () => {
  const { door, station, connectAsPage, port, host } = await servedDoor();
  const socket = await connectAsPage();
  const silent = connectRaw({ host: '127.0.0.1', port });
  const halfway = connectRaw({ host: '127.0.0.1', port });
  const waiting = connectRaw({ host: '127.0.0.1', port });
  halfway.write('GET / HTTP/1.1\r\n');
  waiting.write(`GET / HTTP/1.1\r\nHost: ${host}\r\nConnection: keep-alive\r\n\r\n`);
  await Promise.all([once(silent, 'connect'), once(halfway, 'connect'), once(waiting, 'data')]);
  const gone = [socket, silent, halfway, waiting].map((open) => {
    open.on('error', () => {});
    return once(open, 'close');
  });
  const start = performance.now();
  await door.close();
  await Promise.all(gone);
  expect(performance.now() - start).toBeLessThan(1000);
  expect(station.listeners()).toBe(0);
});
