import { createServer, type Socket } from 'node:net';
import { onTestFinished } from 'vitest';

export interface TinyMeter {
  address: string;
  /** What it answers, by question; may be changed while it runs. */
  answers: Record<string, string>;
  /** How many have connected so far. */
  connections: number;
  /** Drops whoever is connected; the next one is welcome. */
  hangUp(): void;
}

/** What a meter set for 4.7 kΩ, 2-wire, says of its settings. */
export const SETTINGS = {
  '*IDN?': 'Example,Bench meter,1,1',
  'FUNC?': '"RES"',
  'RES:RANG:AUTO?': '0',
  'RES:NPLC?': '1',
  'SYST:ERR?': '0,"No error"',
};

/**
 * A real meter on TCP (it does not identify itself as the simulated bench) that knows a few answers. `odd` may answer a
 * question otherwise.
 */
export async function tinyMeter(
  answers: Record<string, string>,
  odd: (question: string) => string | undefined = () => undefined,
): Promise<TinyMeter> {
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    meter.connections += 1;
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.on('error', () => undefined);
    let range = '0';
    socket.on('data', (chunk) => {
      for (const line of chunk.toString('latin1').split('\n')) {
        const set = /^RES:RANG (\S+)/.exec(line);
        if (set) range = set[1] ?? range;
        const proof = /^\*ESE (\d+);\*ESE\?/.exec(line);
        const answer = proof ? proof[1] : (odd(line) ?? (line === 'RES:RANG?' ? range : meter.answers[line]));
        if (answer !== undefined) socket.write(`${answer}\n`);
      }
    });
  });
  const meter: TinyMeter = {
    address: '',
    answers: { ...SETTINGS, ...answers },
    connections: 0,
    hangUp: () => {
      for (const socket of sockets) socket.destroy();
    },
  };
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => void server.close());
  const bound = server.address();
  meter.address = `tcp://127.0.0.1:${typeof bound === 'object' && bound ? bound.port : 0}`;
  return meter;
}
