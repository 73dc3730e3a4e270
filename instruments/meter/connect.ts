import { setTimeout as wait } from 'node:timers/promises';
import { BENCH_MAKER, BENCH_MODEL } from '../../core/inspection/simulatedBench.ts';
import { Problem, problem } from '../../core/problem/problem.ts';
import { Bench } from '../bench/bench.ts';
import { type BenchScenarioInput, MANNER_NAMES, readScenario } from '../bench/scenario.ts';
import { serveBench } from '../bench/serve.ts';
import { Session } from '../scpi/session.ts';
import { type Address, openTransport, readAddress } from '../transport/address.ts';
import type { Connection } from '../transport/connection.ts';
import { openInProcess } from '../transport/inProcess.ts';
import { isPortPresent } from '../transport/serial.ts';
import { farewellOf, prepareMeter, waysOf } from './askedMeter.ts';
import { type AskedDialect, type Dialect, isAsked, isTalker, type TalkerDialect } from './dialect.ts';
import { handsAt } from './hands.ts';
import { type Identity, NOT_TOLD } from './identity.ts';
import type { Meter } from './meter.ts';
import { dialectNamed, USUAL_DIALECT } from './shippedDialects.ts';
import { prepareTalker } from './talker.ts';

export interface ConnectOptions {
  /** A number from 0 up to, not including, 1; used to prove that questions and answers are in step. */
  random: () => number;
  /**
   * What the simulated bench holds; used for `sim:` only, where seed and treatment in the address come first. The reel it
   * names must be there already: what is a drifting or a sorted one depends on the part.
   */
  bench: BenchScenarioInput;
  /** The user's own dialects; those that come with the program are known. */
  dialects?: readonly Dialect[];
  /** The connection is lost after it was made. Called once, never after `close`. */
  onLost: (why: Problem) => void;
  /** Gives up connecting; has no effect on a meter that is connected already. */
  signal?: AbortSignal;
}

const FIRST_PAUSE_MILLISECONDS = 250;
const LONGEST_PAUSE_MILLISECONDS = 500;
/** Nothing that is tried again can help these. */
const FOR_GOOD = new Set(['address-unreadable', 'dialect-unknown', 'input-invalid']);

/**
 * Opens the address, takes the meter into remote control and identifies it, in the dialect the address names.
 * @param address `sim:`, `sim:<seed>`, `tcp://host:port` or the path of a serial port, each with options of its line
 * @throws {Problem} address-unreadable, dialect-unknown, port-busy, port-forbidden, meter-unreachable, meter-silent,
 *   meter-lost, and the others of `Session.ask`; or the signal's reason
 */
export async function connectMeter(address: string, options: ConnectOptions): Promise<Meter> {
  const { signal } = options;
  signal?.throwIfAborted();
  const where = readAddress(address);
  const dialect = dialectNamed(where.dialect, options.dialects);
  const opened = await open(address, where, options);
  if (isTalker(dialect)) return connectTalker(opened, dialect, options);
  if (isAsked(dialect)) return connectAsked(opened.connection, dialect, options);
  throw new Error(`the dialect ${dialect.name} neither asks nor listens`);
}

/**
 * Connects again to the meter a run began with: tries at once, then after 250 ms, then every 500 ms, until it works or
 * the signal is given. A serial port is opened only while the operating system has it, so that a pulled adapter is back
 * soon after its return. A meter that cannot say who it is, a talker, may be another one now and nothing can show it:
 * it is connected again, and that it may be trusted must be shown anew, as after any reconnection.
 * @throws {Problem} meter-other as soon as a different meter answers, address-unreadable, dialect-unknown; or the
 *   signal's reason
 */
export async function reconnectMeter(
  address: string,
  identity: Identity,
  options: ConnectOptions & { signal: AbortSignal },
): Promise<Meter> {
  const where = readAddress(address);
  let pause = FIRST_PAUSE_MILLISECONDS;
  for (;;) {
    const isThere = where.kind !== 'serial' || (await isPortPresent(where.path));
    const meter = isThere ? await tryToConnect(address, options) : null;
    if (meter) {
      if (meter.identity.text === identity.text) return meter;
      await meter.close();
      throw problem('meter-other', identity.text, meter.identity.text);
    }
    await wait(pause, undefined, { signal: options.signal }).catch(() => options.signal.throwIfAborted());
    // A port that is looked for costs nothing, so it is looked for often.
    if (isThere) pause = LONGEST_PAUSE_MILLISECONDS;
  }
}

async function tryToConnect(address: string, options: ConnectOptions & { signal: AbortSignal }): Promise<Meter | null> {
  try {
    return await connectMeter(address, options);
  } catch (failure) {
    options.signal.throwIfAborted();
    if (failure instanceof Problem && !FOR_GOOD.has(failure.code)) return null;
    throw failure;
  }
}

async function connectAsked(connection: Connection, dialect: AskedDialect, options: ConnectOptions): Promise<Meter> {
  let connected = false;
  const session = new Session(connection, {
    random: options.random,
    ways: waysOf(dialect),
    onLost: (why) => connected && options.onLost(why),
  });
  const meter = await untilConnected(
    options.signal,
    () => prepareMeter(session, connection, dialect),
    // It may have been taken into remote control already.
    () => session.close(farewellOf(dialect, connection)),
  );
  if (session.state === 'lost') throw problem('meter-lost', 'it was lost while connecting');
  connected = true;
  return meter;
}

async function connectTalker(
  { connection, bench }: Opened,
  dialect: TalkerDialect,
  options: ConnectOptions,
): Promise<Meter> {
  let connected = false;
  const meter = await untilConnected(
    options.signal,
    () =>
      prepareTalker(connection, dialect, {
        // A talker hears nothing, so the hands of a simulated one are not at the other end of its line.
        hands: bench && handsAt(bench),
        ...(bench && { identity: `${BENCH_MAKER},${BENCH_MODEL},${NOT_TOLD},` }),
        onLost: (why) => connected && options.onLost(why),
      }),
    () => connection.close(),
  );
  if (meter.state === 'lost') throw problem('meter-lost', 'it was lost while connecting');
  connected = true;
  return meter;
}

/** Does what it takes to connect; gives up at once when the signal is given, and closes whenever it comes to nothing. */
async function untilConnected<M extends Meter>(
  signal: AbortSignal | undefined,
  connect: () => Promise<M>,
  close: () => Promise<void>,
): Promise<M> {
  const giveUp = () => void close();
  signal?.addEventListener('abort', giveUp);
  try {
    signal?.throwIfAborted();
    const meter = await connect();
    signal?.throwIfAborted();
    return meter;
  } catch (failure) {
    await close();
    throw signal?.aborted ? signal.reason : failure;
  } finally {
    signal?.removeEventListener('abort', giveUp);
  }
}

interface Opened {
  connection: Connection;
  /** The simulated bench at the far end, where it is in this process. */
  bench: Bench | null;
}

async function open(text: string, address: Address, options: ConnectOptions): Promise<Opened> {
  if (address.kind !== 'sim') return { connection: await openTransport(address, options.signal), bench: null };
  const bench = new Bench(readScenario(scenarioFor(address, options.bench)));
  return { connection: openInProcess(text, (farEnd) => serveBench(farEnd, bench), address.line), bench };
}

/** The simulated bench behaves as a meter of the dialect its address names, unless the scenario says how it behaves. */
function scenarioFor(address: Address & { kind: 'sim' }, bench: BenchScenarioInput): BenchScenarioInput {
  const manner = MANNER_NAMES.find((name) => name === address.dialect);
  return {
    ...bench,
    ...(address.seed !== null && { seed: address.seed }),
    ...(address.stress !== null && { stress: address.stress }),
    ...(manner !== undefined && address.dialect !== USUAL_DIALECT && { meter: { manner, ...bench.meter } }),
  };
}
