import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { type IncomingHttpHeaders, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { WebSocket } from 'ws';
import type { News, StationClient, Told } from '../../../core/contract/contract.ts';
import { type LoopbackOptions, serveLoopback } from '../../../main/loopback/serveLoopback.ts';

/** What stands outside the served folder, or in it where it must not be served. */
export const OUTSIDE = 'must never be served';

/** A small station that answers one request with what it was asked, and can tell news. */
export function echoStation(): StationClient & { tell(news: News): void; listeners(): number; asked: string[] } {
  const hearing = new Set<(news: News) => void>();
  const asked: string[] = [];
  return {
    asked,
    ask: async (name, question) => {
      asked.push(name);
      return { name, question } as never;
    },
    listen(hear) {
      hearing.add(hear);
      return () => hearing.delete(hear);
    },
    tell(news) {
      for (const hear of hearing) hear(news);
    },
    listeners: () => hearing.size,
  };
}

/** A folder with a built screen, and around it what must stay unseen. */
export function screenFolder(): string {
  const around = mkdtempSync(join(tmpdir(), 'loopback-'));
  onTestFinished(() => rmSync(around, { recursive: true }));
  const folder = join(around, 'screen');
  mkdirSync(join(folder, 'assets'), { recursive: true });
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>Screen</title>');
  writeFileSync(join(folder, 'assets', 'screen-a1b2.js'), 'export {};');
  writeFileSync(join(folder, '.hidden.js'), OUTSIDE);
  writeFileSync(join(folder, 'notes.txt'), OUTSIDE);
  writeFileSync(join(around, 'secret.js'), OUTSIDE);
  mkdirSync(join(around, 'screen-old'));
  writeFileSync(join(around, 'screen-old', 'secret.js'), OUTSIDE);
  symlinkSync(join(around, 'secret.js'), join(folder, 'linked.js'));
  return folder;
}

export interface Answered {
  status: number;
  headers: IncomingHttpHeaders;
  body: string;
}

/** A door with its own station, and how to knock at it; closed when the test ends. */
export async function servedDoor(options: Partial<LoopbackOptions> = {}) {
  const station = echoStation();
  const door = await serveLoopback({ station, rendererFolder: screenFolder(), ...options });
  onTestFinished(() => door.close());
  const { origin, host, port, searchParams } = new URL(door.address);

  /** One request whose path goes out exactly as written. */
  const get = (path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Answered> =>
    new Promise((resolve, reject) => {
      const asked = request({ host: '127.0.0.1', port, path, method, headers: { host, ...headers } }, (answer) => {
        let body = '';
        answer.setEncoding('utf8').on('data', (text) => {
          body += text;
        });
        answer.on('end', () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body }));
      });
      asked.on('error', reject).end();
    });

  const key = searchParams.get('key') ?? '';
  const letIn = async (withKey = key): Promise<string> => {
    const { headers } = await get(`/?key=${withKey}`);
    return headers['set-cookie']?.[0]?.split(';')[0] ?? '';
  };

  /** Opens the WebSocket; throws with ws's own words where it is refused. */
  const connect = async (headers: Record<string, string>, path = '/station', more = {}): Promise<WebSocket> => {
    const socket = new WebSocket(`ws://${host}${path}`, { headers, ...more });
    onTestFinished(() => socket.terminate());
    await new Promise((resolve, reject) => socket.on('open', resolve).on('error', reject));
    return socket;
  };
  const connectAsPage = async (more = {}): Promise<WebSocket> =>
    connect({ cookie: await letIn(), origin }, '/station', more);

  return { station, door, origin, host, port: Number(port), key, get, letIn, connect, connectAsPage };
}

/** The next message of a socket. */
export function told(socket: WebSocket): Promise<Told> {
  return new Promise((resolve) => socket.once('message', (data) => resolve(JSON.parse(data.toString()))));
}
