import { once } from 'node:events';
import { createServer, type Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { problem } from '../../core/problem/problem.ts';
import { Bench } from './bench.ts';
import { ScpiError } from './grammar.ts';
import { execute } from './interpreter.ts';
import { type BenchScenarioInput, readScenario } from './scenario.ts';

const LONGEST_MESSAGE_BYTES = 4096;
const HANDOVER_MILLISECONDS = 500;

/**
 * Serves a bench on a stream until the stream ends, in the manner of its meter. Messages end with CR, LF or CR LF;
 * answers end with LF. While the bench measures nothing is taken from the stream, so what waits is bounded by the
 * stream's own buffers.
 */
export async function serveBench(duplex: Duplex, bench: Bench): Promise<void> {
  try {
    await (bench.manner.serve ?? answerMessages)(duplex, bench);
  } catch (failure) {
    // A stream that broke has ended; a defect of the bench ends it too, with its text.
    if (!duplex.destroyed) duplex.destroy(failure instanceof Error ? failure : new Error(String(failure)));
  } finally {
    // Nobody looks at the meter any more.
    if (bench.hands.work !== 'rest') bench.rest();
    bench.trigger.end();
  }
}

async function answerMessages(duplex: Duplex, bench: Bench): Promise<void> {
  let unfinished = '';
  let skipping = false;
  for await (const chunk of duplex) {
    const pieces = (unfinished + (chunk as Buffer).toString('latin1')).split(/[\r\n]/);
    unfinished = pieces.pop() ?? '';
    for (const message of pieces) {
      if (skipping) skipping = false;
      else if (message.length > LONGEST_MESSAGE_BYTES) bench.status.note(new ScpiError(-363));
      else await answer(duplex, bench, message);
    }
    if (unfinished.length > LONGEST_MESSAGE_BYTES) {
      if (!skipping) bench.status.note(new ScpiError(-363));
      skipping = true;
      unfinished = '';
    }
  }
}

async function answer(duplex: Duplex, bench: Bench, message: string): Promise<void> {
  const response = await execute(bench, message);
  if (response === null || duplex.destroyed) return;
  if (!duplex.write(`${response}\n`, 'latin1')) await Promise.race([once(duplex, 'drain'), once(duplex, 'close')]);
}

export interface BenchServer {
  /** Address to give to the station. */
  address: string;
  port: number;
  /** The bench itself: hands for a meter that takes no commands. */
  bench: Bench;
  close(): Promise<void>;
}

/**
 * Serves a bench on a raw SCPI socket. It has one meter, so it serves one client at a time; others get the line `busy`
 * and are disconnected.
 * @param port 0 for any free port
 * @throws {Problem} input-invalid for a scenario that is none, bench-unavailable for a port that cannot be served
 */
export async function serveBenchOnTcp(options: {
  host: string;
  port: number;
  scenario: BenchScenarioInput;
}): Promise<BenchServer> {
  const bench = new Bench(readScenario(options.scenario));
  let client: Socket | null = null;
  const server = createServer({ noDelay: true, keepAlive: true, keepAliveInitialDelay: 10_000 }, async (socket) => {
    socket.on('error', () => socket.destroy());
    // A client that comes right after another one must not be turned away because the end of that one is still on its way.
    if (client) {
      await once(client, 'close', { signal: AbortSignal.timeout(HANDOVER_MILLISECONDS) }).catch(() => undefined);
    }
    if (socket.destroyed) return;
    if (client) {
      socket.resume();
      socket.end('busy\n');
      return;
    }
    client = socket;
    socket.once('close', () => {
      client = null;
    });
    serveBench(socket, bench);
  });
  server.listen({ host: options.host, port: options.port });
  await once(server, 'listening').catch((failure: Error) => {
    throw problem('bench-unavailable', `${options.host}:${options.port}`, failure.message);
  });
  const bound = server.address();
  const port = typeof bound === 'object' && bound ? bound.port : options.port;
  return {
    bench,
    port,
    address: `tcp://${options.host.includes(':') ? `[${options.host}]` : options.host}:${port}`,
    close: async () => {
      const closed = once(server, 'close');
      server.close();
      client?.destroy();
      await closed;
    },
  };
}
