import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { type RawData, WebSocket, WebSocketServer } from 'ws';
import type { StationClient, Told } from '../../core/contract/contract.ts';
import { asProblem, problem } from '../../core/problem/problem.ts';
import { answer } from '../station/answer.ts';

/** Longest message taken, in bytes, a file that is handed over included; ws closes a connection that sends more with status 1009. */
export const LONGEST_MESSAGE = 16 * 1024 * 1024;
/** Requests of one connection under way at a time; no more is read from it meanwhile. */
const MOST_UNDER_WAY = 32;
/** Bytes that may wait for a client that does not read; beyond it is cut off and reads the record again when it returns. */
const MOST_WAITING = 16 * 1024 * 1024;

export interface Sockets {
  /** Takes over a connection that was let in. */
  take(request: IncomingMessage, socket: Duplex, head: Buffer): void;
  close(): void;
}

/**
 * Carries the contract over WebSockets, one JSON text per message.
 * @param pingMilliseconds a client that has not answered one ping by the next is taken for dead
 * @param aloneMilliseconds when nobody has been there for so long readings are no longer captured: nobody hears them
 */
export function createSockets(station: StationClient, pingMilliseconds: number, aloneMilliseconds: number): Sockets {
  const server = new WebSocketServer({ noServer: true, maxPayload: LONGEST_MESSAGE });
  const pinged = new WeakSet<WebSocket>();

  const stopListening = station.listen((news) => {
    const text = JSON.stringify({ news } satisfies Told);
    for (const client of server.clients) tell(client, text);
  });

  const ping = setInterval(() => {
    for (const client of server.clients) {
      // Nothing is read from a paused client, so its pong cannot be seen.
      if (client.isPaused) continue;
      if (pinged.has(client)) client.terminate();
      pinged.add(client);
      client.ping();
    }
  }, pingMilliseconds);
  ping.unref();

  let alone: NodeJS.Timeout | undefined;
  const endCapture = () =>
    void station.ask('stop-capture', {}).catch((thrown) => process.emitWarning(asProblem(thrown)));

  server.on('connection', (client) => {
    let underWay = 0;
    clearTimeout(alone);
    client.on('close', () => {
      if (server.clients.size === 0) alone = setTimeout(endCapture, aloneMilliseconds).unref();
    });
    client.on('pong', () => pinged.delete(client));
    // ws closes a connection that breaks the protocol by itself; unheard, its error would end the process.
    client.on('error', () => {});
    client.on('message', async (data, isBinary) => {
      underWay += 1;
      if (underWay === MOST_UNDER_WAY) client.pause();
      tell(client, JSON.stringify(await answerText(station, data, isBinary)));
      if (underWay === MOST_UNDER_WAY) client.resume();
      underWay -= 1;
    });
  });

  return {
    take(request, socket, head) {
      server.handleUpgrade(request, socket, head, (client) => server.emit('connection', client, request));
    },
    close() {
      stopListening();
      clearInterval(ping);
      clearTimeout(alone);
      for (const client of server.clients) client.terminate();
    },
  };
}

async function answerText(station: StationClient, data: RawData, isBinary: boolean): Promise<Told> {
  let message: unknown;
  try {
    if (isBinary) throw new SyntaxError('binary');
    message = JSON.parse(data.toString());
  } catch {
    return { id: 0, problem: problem('input-invalid', 'request', 'not JSON text').toJSON() };
  }
  return answer(station, message);
}

function tell(client: WebSocket, text: string): void {
  if (client.readyState !== WebSocket.OPEN) return;
  if (client.bufferedAmount > MOST_WAITING) client.terminate();
  else client.send(text);
}
