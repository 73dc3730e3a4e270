import { once } from 'node:events';
import { afterEach, describe, expect, it } from 'vitest';
import { WebSocketServer } from 'ws';
import type { Asked, News, Told } from '../../core/contract/contract.ts';
import { problem } from '../../core/problem/problem.ts';
import { socketLine } from '../../renderer/station/socketLine.ts';
import type { StationLine } from '../../renderer/station/stationLine.ts';

let server: WebSocketServer | undefined;
afterEach(() => {
  for (const client of server?.clients ?? []) client.terminate();
  server?.close();
});

/** A door on 127.0.0.1 that answers with what `tell` says; null leaves a question unanswered. */
async function door(port: number, tell: (asked: Asked) => Told | null): Promise<number> {
  server = new WebSocketServer({ host: '127.0.0.1', port });
  server.on('connection', (socket) => {
    socket.on('message', (message) => {
      const told = tell(JSON.parse(String(message)) as Asked);
      if (told) socket.send(JSON.stringify(told));
    });
  });
  await once(server, 'listening');
  return (server.address() as { port: number }).port;
}

/** Resolves when the line is up, or down. */
function whenUp(line: StationLine, wanted: boolean): Promise<void> {
  return new Promise((resolve) => {
    const stop = line.watch((up) => {
      if (up !== wanted) return;
      resolve();
      queueMicrotask(() => stop());
    });
  });
}

describe('the line to the station over a WebSocket', () => {
  it('pairs each answer with its own question, and problems become problems', async () => {
    const late: Asked[] = [];
    const port = await door(0, (asked) => {
      if (asked.name === 'list-ports') return { id: asked.id, problem: problem('run-unknown', 7).toJSON() };
      // Answered in reverse order once both are there.
      late.push(asked);
      if (late.length < 2) return null;
      const [first, second] = late as [Asked, Asked];
      for (const client of server?.clients ?? []) client.send(JSON.stringify({ id: second.id, answer: 'second' }));
      return { id: first.id, answer: 'first' };
    });
    const line = socketLine(`ws://127.0.0.1:${port}`);
    await whenUp(line, true);
    const both = Promise.all([line.ask('overview', {}), line.ask('overview', {})]);
    expect(await both).toEqual(['first', 'second']);
    await expect(line.ask('list-ports', {})).rejects.toMatchObject({ code: 'run-unknown' });
  });

  it('passes news on until it is told to stop', async () => {
    const port = await door(0, () => null);
    const line = socketLine(`ws://127.0.0.1:${port}`);
    await whenUp(line, true);
    const send = () => {
      const news: News = { kind: 'link', link: { state: 'none' } };
      for (const client of server?.clients ?? []) client.send(JSON.stringify({ news }));
    };
    const heard = await new Promise<News>((resolve) => {
      const stop = line.listen((news) => {
        stop();
        resolve(news);
      });
      send();
    });
    expect(heard).toEqual({ kind: 'link', link: { state: 'none' } });
  });

  it('refuses open questions when the line drops, and comes back by itself', async () => {
    const port = await door(0, () => null);
    const line = socketLine(`ws://127.0.0.1:${port}`);
    await whenUp(line, true);
    const open = line.ask('overview', {});
    const refused = expect(open).rejects.toMatchObject({ code: 'station-away' });
    const down = whenUp(line, false);
    for (const client of server?.clients ?? []) client.terminate();
    server?.close();
    await refused;
    await down;
    await expect(line.ask('overview', {})).rejects.toMatchObject({ code: 'station-away' });

    await door(port, (asked) => ({ id: asked.id, answer: 'again' }));
    await whenUp(line, true);
    expect(await line.ask('overview', {})).toBe('again');
  });
});
