import { setTimeout as wait } from 'node:timers/promises';
import { Problem, problem } from '../../core/problem/problem.ts';
import { Bench } from '../bench/bench.ts';
import { type BenchScenarioInput, readScenario } from '../bench/scenario.ts';
import { serveBench } from '../bench/serve.ts';
import { Session } from '../scpi/session.ts';
import { openTransport, readAddress } from '../transport/address.ts';
import type { Connection } from '../transport/connection.ts';
import { openInProcess } from '../transport/inProcess.ts';
import { type Identity, type Meter, prepareMeter } from './meter.ts';

export interface ConnectOptions {
  /** A number from 0 up to, not including, 1; used to prove that questions and answers are in step. */
  random: () => number;
  /** What the simulated bench holds; used for `sim:` only, where a seed in the address comes first. */
  bench: BenchScenarioInput;
  /** The connection is lost after it was made. Called once, never after `close`. */
  onLost: (why: Problem) => void;
  /** Gives up connecting; has no effect on a meter that is connected already. */
  signal?: AbortSignal;
}

const FIRST_PAUSE_MILLISECONDS = 250;
const LONGEST_PAUSE_MILLISECONDS = 2000;

/**
 * Opens the address, takes the meter into remote control and identifies it.
 * @param address `sim:`, `sim:<seed>`, `tcp://host:port` or the path of a serial port
 * @throws {Problem} address-unreadable, port-busy, port-forbidden, meter-unreachable, meter-silent, meter-lost; or the
 *   signal's reason
 */
export async function connectMeter(address: string, options: ConnectOptions): Promise<Meter> {
  const { signal } = options;
  signal?.throwIfAborted();
  const connection = await open(address, options);
  let connected = false;
  const session = new Session(connection, {
    random: options.random,
    onLost: (why) => connected && options.onLost(why),
  });
  const giveUp = () => session.close();
  signal?.addEventListener('abort', giveUp);
  try {
    signal?.throwIfAborted();
    const meter = await prepareMeter(session, connection.serial);
    signal?.throwIfAborted();
    if (session.state === 'lost') throw problem('meter-lost', 'it was lost while connecting');
    connected = true;
    return meter;
  } catch (failure) {
    // It may have been taken into remote control already.
    await session.close(connection.serial ? 'SYST:LOC' : undefined);
    throw signal?.aborted ? signal.reason : failure;
  } finally {
    signal?.removeEventListener('abort', giveUp);
  }
}

/**
 * Connects again to the meter a run began with: tries at once, then after 250 ms, doubling up to 2 s, until it works
 * or the signal is given.
 * @throws {Problem} meter-other as soon as a different meter answers, address-unreadable; or the signal's reason
 */
export async function reconnectMeter(
  address: string,
  identity: Identity,
  options: ConnectOptions & { signal: AbortSignal },
): Promise<Meter> {
  let pause = FIRST_PAUSE_MILLISECONDS;
  for (;;) {
    const meter = await connectMeter(address, options).catch((failure: unknown) => {
      options.signal.throwIfAborted();
      if (failure instanceof Problem && failure.code !== 'address-unreadable') return null;
      throw failure;
    });
    if (meter) {
      if (meter.identity.text === identity.text) return meter;
      await meter.close();
      throw problem('meter-other', identity.text, meter.identity.text);
    }
    await wait(pause, undefined, { signal: options.signal }).catch(() => options.signal.throwIfAborted());
    pause = Math.min(pause * 2, LONGEST_PAUSE_MILLISECONDS);
  }
}

async function open(text: string, options: ConnectOptions): Promise<Connection> {
  const address = readAddress(text);
  if (address.kind !== 'sim') return openTransport(address, options.signal);
  const scenario = readScenario(address.seed === null ? options.bench : { ...options.bench, seed: address.seed });
  return openInProcess(text, (farEnd) => serveBench(farEnd, new Bench(scenario)));
}
