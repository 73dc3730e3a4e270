import { setTimeout as wait } from 'node:timers/promises';
import { Problem, problem } from '../../core/problem/problem.ts';
import type { Connection } from '../transport/connection.ts';
import { ENDS, type LineSettings, usualLineSettings } from '../transport/lineSettings.ts';
import { isPortPresent, openSerial, type SerialSettings, usualSerialSettings } from '../transport/serial.ts';
import { type Identity, readIdentity } from './identity.ts';

export interface MeterFound {
  /** The port with the settings of its line, as `connectMeter` takes it. */
  address: string;
  identity: Identity;
}

export interface FindOptions {
  /** Told before each try: what is tried now, in the words of an address, and how far along it is. */
  onTry: (trying: { settings: string; number: number; of: number }) => void;
  signal: AbortSignal;
  /** How long an answer is waited for, the time of the line apart. */
  answerMilliseconds?: number;
}

/** Settings of the line that belong to one opening of the port. */
type Opening = Pick<SerialSettings, 'baudRate' | 'dataBits' | 'parity' | 'stopBits' | 'flow'>;

const QUESTION = '*IDN?';
/** How common a baud rate is with bench meters, the commonest first (common practice). */
const BAUD_RATES = [9600, 115_200, 19_200, 57_600, 38_400, 4800, 2400, 1200];
const FRAMINGS: readonly Pick<Opening, 'dataBits' | 'parity' | 'stopBits'>[] = [
  { dataBits: 7, parity: 'even', stopBits: 1 },
  { dataBits: 7, parity: 'odd', stopBits: 1 },
  { dataBits: 8, parity: 'even', stopBits: 1 },
  { dataBits: 8, parity: 'none', stopBits: 2 },
];
const TERMINATORS: readonly LineSettings['out'][] = ['lf', 'cr', 'crlf'];
const ANSWER_MILLISECONDS = 600;
/** For a meter that was heard to answer, but late. */
const PATIENT_TIMES = 5;
/** Between the bytes of one answer there is never such a pause. */
const QUIET_MILLISECONDS = 150;
const LONGEST_ANSWER_BYTES = 1000;
const LOOK_MILLISECONDS = 10;
const LONGEST_SHOWN = 60;
const CLOSE_MILLISECONDS = 1000;

/** The openings in the order they are tried: all speeds in the usual framing, then in others, then with flow control. */
const OPENINGS: readonly Opening[] = [
  ...BAUD_RATES.map((baudRate) => ({ ...usualSerialSettings, baudRate })),
  ...FRAMINGS.flatMap((framing) => BAUD_RATES.map((baudRate) => ({ ...usualSerialSettings, ...framing, baudRate }))),
  ...(['rts', 'dtr'] as const).flatMap((flow) =>
    BAUD_RATES.map((baudRate) => ({ ...usualSerialSettings, baudRate, flow })),
  ),
];

/**
 * Looks for a meter on the one port the user chose: opens it with one common setting after the other, asks `*IDN?`
 * (IEEE 488.2 10.14) and nothing else, and closes it again. An answer counts when it looks like an identity and comes
 * twice, word for word.
 * @param path of the serial port
 * @throws {Problem} meter-not-found with what came; port-busy, port-forbidden, meter-unreachable; or the signal's reason,
 *   at once and with the port closed
 */
export async function findMeter(
  path: string,
  { onTry, signal, answerMilliseconds = ANSWER_MILLISECONDS }: FindOptions,
): Promise<MeterFound> {
  let came = '';
  for (const [index, opening] of OPENINGS.entries()) {
    signal.throwIfAborted();
    onTry({ settings: settingsText(opening), number: index + 1, of: OPENINGS.length });
    const tried = await tryOpening(path, opening, answerMilliseconds, signal).catch(async (failure: unknown) => {
      // An adapter that cannot be set like this is no reason to stop; a port that is gone, or held, is.
      const isUnable = failure instanceof Problem && failure.code === 'meter-unreachable' && index > 0;
      if (isUnable && (await isPortPresent(path))) return NOTHING;
      throw failure;
    });
    const answered = tried.wasLate
      ? await tryOpening(path, opening, PATIENT_TIMES * answerMilliseconds, signal)
      : tried;
    if (answered.found) return answered.found;
    came ||= answered.came;
  }
  throw problem('meter-not-found', path, OPENINGS.length, came === '' ? 'nothing' : came);
}

interface Tried {
  found: MeterFound | null;
  /** It said who it is, but not in time to tell which question that answers. */
  wasLate: boolean;
  /** What came, readable; empty for nothing. */
  came: string;
}

const NOTHING: Tried = { found: null, wasLate: false, came: '' };

async function tryOpening(path: string, opening: Opening, milliseconds: number, signal: AbortSignal): Promise<Tried> {
  const connection = await openSerial(path, opening, usualLineSettings);
  const listener = new Listener(connection, signal);
  try {
    return await tryTerminators(listener, { path, opening, milliseconds });
  } catch (failure) {
    signal.throwIfAborted();
    throw failure;
  } finally {
    listener.stop();
    // Closing waits for the operating system, which may not let go.
    await Promise.race([connection.close(), wait(CLOSE_MILLISECONDS)]);
    connection.duplex.destroy();
  }
}

async function tryTerminators(
  listener: Listener,
  { path, opening, milliseconds }: { path: string; opening: Opening; milliseconds: number },
): Promise<Tried> {
  let came = '';
  let wasLate = false;
  for (const out of TERMINATORS) {
    let first = await listener.ask(out, milliseconds);
    // To a meter that waits for CR, or for both, the questions before this one are its beginning; now they are gone.
    if (out !== 'lf' && first.came === '') first = await listener.ask(out, milliseconds);
    came ||= first.came;
    if (first.identity === null) {
      // Rubbish comes from a wrong speed or framing, which no other end of line can mend.
      if (first.came !== '' && !first.echoes) break;
      continue;
    }
    const second = await listener.ask(out, milliseconds);
    if (second.identity === first.identity) {
      const address = `${path}?${settingsText(opening, out, first.echoes)}`;
      return { found: { address, identity: readIdentity(first.identity) }, wasLate, came };
    }
    wasLate = true;
  }
  return { found: null, wasLate, came };
}

/** The settings as an address carries them; what is usual in all of them is left out but the speed. */
function settingsText(opening: Opening, out: LineSettings['out'] = 'lf', echoes = false): string {
  const usual = { ...usualSerialSettings, out: usualLineSettings.out, echo: 'off' };
  const options: [name: string, value: string | number, usual: string | number][] = [
    ['baud', opening.baudRate, ''],
    ['bits', opening.dataBits, usual.dataBits],
    ['parity', opening.parity, usual.parity],
    ['stop', opening.stopBits, usual.stopBits],
    ['flow', opening.flow, usual.flow],
    ['out', out, usual.out],
    ['echo', echoes ? 'on' : 'off', usual.echo],
  ];
  return options
    .filter(([, value, ordinary]) => value !== ordinary)
    .map(([name, value]) => `${name}=${value}`)
    .join('&');
}

interface Answer {
  /** The answer, if it looks like an identity: three fields or more of printable characters. */
  identity: string | null;
  /** The question itself came back first. */
  echoes: boolean;
  /** Everything that came, readable; empty for nothing. */
  came: string;
}

/** Asks over one connection and gathers what comes. */
class Listener {
  readonly #connection: Connection;
  readonly #signal: AbortSignal;
  #bytes = '';
  #lastByteAt = 0;
  readonly #hear = (chunk: Buffer): void => {
    this.#lastByteAt = performance.now();
    this.#bytes = (this.#bytes + chunk.toString('latin1')).slice(-LONGEST_ANSWER_BYTES);
  };

  constructor(connection: Connection, signal: AbortSignal) {
    this.#connection = connection;
    this.#signal = signal;
    connection.duplex.on('data', this.#hear);
    // A port that goes away shows as silence here, and as a failure when it is opened the next time.
    connection.duplex.on('error', () => undefined);
  }

  async ask(out: LineSettings['out'], milliseconds: number): Promise<Answer> {
    const { characterMilliseconds, duplex } = this.#connection;
    const silence = milliseconds + 2 * QUESTION.length * characterMilliseconds;
    const quiet = QUIET_MILLISECONDS + 2 * characterMilliseconds;
    this.#bytes = '';
    if (await this.#mayBeSent(milliseconds)) duplex.write(QUESTION + ENDS[out], 'latin1');
    const asked = performance.now();
    for (;;) {
      await wait(LOOK_MILLISECONDS, undefined, { signal: this.#signal });
      const now = performance.now();
      const silentFor = now - Math.max(asked, this.#lastByteAt);
      const answer = this.#answer();
      if (silentFor >= (answer.identity === null ? silence : Math.min(quiet, silence))) return answer;
      // A meter that never stops says nothing that could be an answer.
      if (now - asked >= 2 * silence + LONGEST_ANSWER_BYTES * characterMilliseconds) return answer;
    }
  }

  stop(): void {
    this.#connection.duplex.off('data', this.#hear);
  }

  /** Whether the meter lets itself be sent to; one that holds the line is not waited for longer than for an answer. */
  async #mayBeSent(milliseconds: number): Promise<boolean> {
    if (!this.#connection.mayBeSent) return true;
    const held = wait(milliseconds, false, { signal: this.#signal });
    return Promise.race([this.#connection.mayBeSent().then(() => true), held]);
  }

  #answer(): Answer {
    const whole = /^([\s\S]*)[\r\n]/.exec(this.#bytes)?.[1] ?? '';
    const lines = whole.split(/[\r\n]+/).filter((line) => line.trim() !== '');
    const echoes = lines[0]?.trim() === QUESTION;
    const [answer, ...more] = echoes ? lines.slice(1) : lines;
    const identity = answer !== undefined && more.length === 0 && looksLikeIdentity(answer) ? answer.trim() : null;
    return { identity, echoes, came: readable(this.#bytes) };
  }
}

function looksLikeIdentity(line: string): boolean {
  return /^[\x20-\x7e]+$/.test(line) && line.split(',').length >= 3 && /[A-Za-z]{2}/.test(line);
}

function readable(bytes: string): string {
  const shown = bytes
    .slice(0, LONGEST_SHOWN)
    .replace(/[^\x20-\x7e]/g, (byte) => `<${byte.charCodeAt(0).toString(16).padStart(2, '0')}>`);
  return bytes.length > LONGEST_SHOWN ? `${shown}…` : shown;
}
