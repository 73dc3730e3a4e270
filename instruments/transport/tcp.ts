import { connect } from 'node:net';
import { problem } from '../../core/problem/problem.ts';
import type { Connection } from './connection.ts';
import { type LineSettings, usualLineSettings } from './lineSettings.ts';

const CONNECT_MILLISECONDS = 5000;

const reasons: Record<string, string> = {
  ECONNREFUSED: 'nothing listens at this port',
  ENOTFOUND: 'there is no host of this name',
  EAI_AGAIN: 'the name of the host could not be looked up',
  EHOSTUNREACH: 'there is no way to this host',
  ENETUNREACH: 'there is no way to this network',
  ETIMEDOUT: 'the host did not answer',
  ECONNRESET: 'the host closed the connection at once',
};

/**
 * Opens a raw SCPI socket.
 * @throws {Problem} meter-unreachable, also when the host does not answer within 5 s
 */
export function openTcp(
  host: string,
  port: number,
  { line = usualLineSettings, signal }: { line?: LineSettings; signal?: AbortSignal | undefined } = {},
): Promise<Connection> {
  const address = `tcp://${host.includes(':') ? `[${host}]` : host}:${port}`;
  return new Promise((resolve, reject) => {
    const socket = connect({ host, port, noDelay: true, keepAlive: true, ...(signal ? { signal } : {}) });
    const fail = (why: string) => {
      socket.destroy();
      reject(signal?.aborted ? signal.reason : problem('meter-unreachable', address, why));
    };
    const deadline = setTimeout(fail, CONNECT_MILLISECONDS, `no answer within ${CONNECT_MILLISECONDS} ms`);
    const failed = (failure: NodeJS.ErrnoException) => {
      clearTimeout(deadline);
      fail(reasons[failure.code ?? ''] ?? failure.message);
    };
    socket.once('error', failed);
    socket.once('connect', () => {
      clearTimeout(deadline);
      socket.off('error', failed);
      resolve({
        address,
        serial: false,
        line,
        characterMilliseconds: 0,
        duplex: socket,
        close: () =>
          new Promise((closed) => {
            if (socket.closed) return closed();
            socket.once('close', () => closed());
            socket.destroySoon();
          }),
      });
    });
  });
}
