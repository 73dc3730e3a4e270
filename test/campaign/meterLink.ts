import { once } from 'node:events';
import { createServer, type Socket } from 'node:net';
import { SerialPort } from 'serialport';

/** The meter's end of the line, whatever it is. */
export interface MeterLink {
  /** Where the program connects; empty where it knows. */
  address: string;
  write(bytes: string): void;
  /** The line is cut in the middle of whatever is under way. */
  hangUp(): void;
  close(): void;
}

export interface LinkHandlers {
  bytes(text: string): void;
  /** Whoever was connected is gone. */
  gone(): void;
}

/** Serves one client at a time on a free port of this machine. */
export async function openTcpLink(
  { bytes, gone }: LinkHandlers,
  hangUp: () => 'end' | 'destroy' | 'reset',
): Promise<MeterLink> {
  let client: Socket | null = null;
  const server = createServer({ noDelay: true }, (socket) => {
    client?.destroy();
    client = socket;
    socket.setEncoding('latin1');
    socket.on('data', (text: string) => client === socket && bytes(text));
    socket.on('error', () => undefined);
    socket.on('close', () => {
      if (client !== socket) return;
      client = null;
      gone();
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const where = server.address();
  if (where === null || typeof where === 'string') throw new Error('the server has no port');
  return {
    address: `tcp://127.0.0.1:${where.port}`,
    write: (text) => client?.write(text, 'latin1'),
    hangUp: () => {
      const way = hangUp();
      if (way === 'end') client?.destroySoon();
      else if (way === 'reset') client?.resetAndDestroy();
      else client?.destroy();
    },
    close: () => {
      client?.destroy();
      server.close();
    },
  };
}

/** Opens one end of a pseudo-terminal. Only its other end can be pulled out, so that is asked for. */
export async function openPtyLink(
  path: string,
  { bytes, gone }: LinkHandlers,
  askToUnplug: () => void,
): Promise<MeterLink> {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((failure) => (failure ? reject(failure) : resolve())));
  port.on('data', (chunk: Buffer) => bytes(chunk.toString('latin1')));
  port.on('error', () => undefined);
  port.on('close', gone);
  return {
    address: '',
    write: (text) => {
      if (port.isOpen) port.write(text, 'latin1');
    },
    // What was sent up to now shall arrive.
    hangUp: () => port.drain(askToUnplug),
    close: () => port.close(() => undefined),
  };
}
