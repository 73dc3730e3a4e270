import { readdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { WebSocketServer } from 'ws';
import type { Order, Report } from './servedStation.ts';

// Serves the page of the peer, in a process of its own, and sends it a number as often as it is told to.
const folder = process.argv[2] ?? '';
const script = readFileSync(join(folder, readdirSync(folder).find((name) => name.endsWith('.js')) ?? ''));
const server = createServer((request, response) => {
  const isScript = request.url === '/page.js';
  response.setHeader('content-type', isScript ? 'text/javascript' : 'text/html');
  response.end(
    isScript ? script : '<!doctype html><title>peer</title><body><script type="module" src="/page.js"></script>',
  );
});
const sockets = new WebSocketServer({ server });
server.listen(0, '127.0.0.1', () => {
  const { port } = server.address() as AddressInfo;
  process.send?.({ address: `http://127.0.0.1:${port}/` } satisfies Report);
});

process.on('message', async ({ take, perSecond }: Order) => {
  const taken: [number, number][] = [];
  const began = performance.now();
  for (let piece = 1; piece <= take; piece++) {
    await wait(Math.max(0, began + ((piece - 1) * 1000) / perSecond - performance.now()));
    taken.push([piece, performance.timeOrigin + performance.now()]);
    for (const client of sockets.clients) client.send(JSON.stringify({ piece }));
  }
  process.send?.({ taken } satisfies Report);
});

process.on('disconnect', () => process.exit());
