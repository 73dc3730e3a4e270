import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { StationClient } from '../../core/contract/contract.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { type PageFile, readPageFiles } from '../station/pageFiles.ts';
import { pageHeaders } from '../station/pageHeaders.ts';
import { type Admission, createAdmission } from './admission.ts';
import { createSockets } from './sockets.ts';

export interface LoopbackOptions {
  station: StationClient;
  /** Folder of the built screen. */
  rendererFolder: string;
  /** Port on 127.0.0.1; a free one is taken without it. */
  port?: number;
  /** Time between two pings to a client. */
  pingMilliseconds?: number;
  /** Time without any client after which readings are no longer captured; a page that is loaded anew is back sooner. */
  aloneMilliseconds?: number;
}

export interface Loopback {
  /** Start address with its key, for people: works as long as the station runs. */
  address: string;
  /** Makes a start address for handing to a browser on a command line, where others can read it: works once, for a minute. */
  browserAddress(): string;
  /** Closes the door and every connection at once. The station stays open. */
  close(): Promise<void>;
}

/** A refusal: status and the one line that says why or what to do. */
type Refusal = [status: number, line: string];

/**
 * Serves the screen and the station on 127.0.0.1, for whoever has the start address.
 * @throws problems file-unreadable (screen not built), loopback-unavailable (port taken or forbidden)
 */
export async function serveLoopback(options: LoopbackOptions): Promise<Loopback> {
  const { station, rendererFolder, port = 0, pingMilliseconds = 15_000, aloneMilliseconds = 10_000 } = options;
  const files = readPageFiles(rendererFolder);
  const server = createServer();
  const origin = await listen(server, port);
  const admission = createAdmission(Number(new URL(origin).port || 80));
  const headers = pageHeaders(origin.replace(/^http/, 'ws'));
  const sockets = createSockets(station, pingMilliseconds, aloneMilliseconds);

  server.on('request', (request, response) => {
    for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
    const refusal = refusalOf(request, origin);
    if (refusal) refuse(response, refusal);
    else serve(request, response, new URL(request.url ?? '', origin), admission, files);
  });

  server.on('upgrade', (request, socket, head) => {
    socket.on('error', () => socket.destroy());
    const refusal: Refusal | null =
      refusalOf(request, origin) ??
      // Only browsers speak to this door, and they name the page a WebSocket is opened by.
      (request.headers.origin === undefined ? [403, 'No origin was given.'] : null) ??
      (admission.admits(request.headers.cookie) ? null : NOT_LET_IN) ??
      (request.url === '/station' ? null : NOTHING_HERE);
    if (!refusal) {
      sockets.take(request, socket, head);
      return;
    }
    const [status, line] = refusal;
    socket.end(`HTTP/1.1 ${status} Refused\r\nConnection: close\r\nContent-Length: ${line.length}\r\n\r\n${line}`, () =>
      socket.destroy(),
    );
  });

  return {
    address: `${origin}/?key=${admission.key}`,
    browserAddress: () => `${origin}/?key=${admission.ticket()}`,
    async close() {
      sockets.close();
      const closed = once(server, 'close');
      server.close();
      server.closeAllConnections();
      await closed;
    },
  };
}

/** Listens on 127.0.0.1 and returns the one origin the door answers to. */
async function listen(server: Server, port: number): Promise<string> {
  server.listen(port, '127.0.0.1');
  try {
    await once(server, 'listening');
  } catch (thrown) {
    throw problem('loopback-unavailable', port, wordsOf(thrown));
  }
  return new URL(`http://127.0.0.1:${(server.address() as AddressInfo).port}`).origin;
}

const NOTHING_HERE: Refusal = [404, 'There is nothing here.'];
const NOT_LET_IN: Refusal = [
  403,
  'Open the start address that the station printed; it ends with ?key= and a long word.',
];

/**
 * Refuses what does not come from this door's own page. Host must be the very address: a foreign name that was made to
 * point at 127.0.0.1 (DNS rebinding) does not get in, and `localhost` neither, which may also mean another listener.
 */
function refusalOf(request: IncomingMessage, origin: string): Refusal | null {
  const { host, origin: from } = request.headers;
  if (`http://${host}` !== origin) return [421, `This station answers at ${origin}/ only.`];
  if (from !== undefined && from !== origin) return [403, 'Another site may not ask this station.'];
  if (request.method !== 'GET' && request.method !== 'HEAD') return [405, 'Pages can only be read here.'];
  // A request line may carry a whole address, or one that begins with //.
  if (URL.parse(request.url ?? '', origin)?.origin !== origin) return NOTHING_HERE;
  return null;
}

function serve(
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  admission: Admission,
  files: ReadonlyMap<string, PageFile>,
): void {
  const key = url.searchParams.get('key');
  if (url.pathname === '/' && key !== null && request.method === 'GET' && admission.opens(key)) {
    response.writeHead(303, { Location: '/', 'Set-Cookie': admission.setCookie, 'Cache-Control': 'no-store' }).end();
    return;
  }
  const file = files.get(url.pathname);
  if (!admission.admits(request.headers.cookie)) {
    refuse(response, NOT_LET_IN);
    return;
  }
  if (!file) {
    refuse(response, NOTHING_HERE);
    return;
  }
  response.writeHead(200, {
    'Content-Type': file.type,
    'Content-Length': file.body.length,
    'Cache-Control': file.cache,
  });
  response.end(request.method === 'HEAD' ? undefined : file.body);
}

function refuse(response: ServerResponse, [status, line]: Refusal): void {
  response.writeHead(status, {
    'Content-Type': 'text/plain; charset=utf-8',
    'Cache-Control': 'no-store',
    ...(status === 405 ? { Allow: 'GET, HEAD' } : {}),
  });
  response.end(`${line}\n`);
}
