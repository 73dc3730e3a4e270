import { createServer, type Socket } from 'node:net';
import { onTestFinished } from 'vitest';
import { withRegister } from './instruments/scriptedInstrument.ts';

export interface TinyMeter {
  address: string;
  /** What it answers, by question; may be changed while it runs. */
  answers: Record<string, string>;
  /** What it reads in resistance; what it answers to READ? while its function is that. */
  ohms: string;
  /** Every message it was sent. */
  heard: string[];
  /** How many have connected so far. */
  connections: number;
  /** Drops whoever is connected; the next one is welcome. */
  hangUp(): void;
}

/** What a meter says of its settings and of itself. */
export const SETTINGS = {
  '*IDN?': 'Example,Bench meter,1,1',
  '*ESR?': '0',
  '*PSC?': '1',
  'RES:RANG:AUTO?': '0',
  'RES:NPLC?': '1',
  'SYST:ERR?': '0,"No error"',
};

/**
 * A real meter on TCP (it does not identify itself as the simulated bench) that knows a few answers, resistance and
 * volts. `odd` may answer a question otherwise.
 */
export async function tinyMeter(
  answers: Record<string, string>,
  odd: (question: string) => string | undefined = () => undefined,
): Promise<TinyMeter> {
  const sockets = new Set<Socket>();
  let range = '0';
  let name = 'RES';
  const unitAnswer = (unit: string): string | null => {
    range = /^RES:RANG (\S+)/.exec(unit)?.[1] ?? range;
    name = /^CONF:(\w+)/.exec(unit)?.[1] ?? name;
    const own = odd(unit) ?? meter.answers[unit];
    if (own !== undefined) return own;
    if (unit === 'RES:RANG?') return range;
    if (unit === 'FUNC?') return `"${name}"`;
    if (unit === 'READ?') return name === 'RES' ? meter.ohms : '+1.0E-05';
    return null;
  };
  const server = createServer((socket) => {
    const respond = withRegister(unitAnswer);
    meter.connections += 1;
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.on('error', () => undefined);
    let rest = '';
    socket.on('data', (chunk) => {
      const messages = (rest + chunk.toString('latin1')).split('\n');
      rest = messages.pop() ?? '';
      for (const message of messages) {
        meter.heard.push(message);
        const answer = respond(message);
        if (answer !== null) socket.write(`${answer}\n`);
      }
    });
  });
  const meter: TinyMeter = {
    address: '',
    answers: { ...SETTINGS, ...answers },
    ohms: '+4.7012E+03',
    heard: [],
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
