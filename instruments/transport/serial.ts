import { access } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { isatty } from 'node:tty';
import { SerialPort } from 'serialport';
import { type Problem, problem } from '../../core/problem/problem.ts';
import type { Connection } from './connection.ts';
import type { LineSettings } from './lineSettings.ts';

export interface SerialSettings {
  baudRate: number;
  dataBits: 7 | 8;
  parity: 'none' | 'even' | 'odd';
  stopBits: 1 | 2;
  /**
   * Who may hold the line: `rts` is RTS/CTS, `xon` is XON/XOFF, both ways; `dtr` is DTR/DSR: our DTR is up while the port
   * is open, and nothing is sent while the meter's DSR is down.
   */
  flow: 'none' | 'rts' | 'xon' | 'dtr';
}

/** 9600 baud, 8 data bits, no parity, 1 stop bit: what a bench meter is most often set to (common practice). */
export const usualSerialSettings: SerialSettings = {
  baudRate: 9600,
  dataBits: 8,
  parity: 'none',
  stopBits: 1,
  flow: 'none',
};

const PRESENCE_MILLISECONDS = 500;
const DSR_MILLISECONDS = 10;
const LOCK_ATTEMPTS = 5;
const LOCK_PAUSE_MILLISECONDS = 100;

/**
 * Opens a serial port.
 * @throws {Problem} port-busy, port-forbidden or meter-unreachable
 */
export async function openSerial(path: string, settings: SerialSettings, line: LineSettings): Promise<Connection> {
  const { flow, ...framing } = settings;
  const held = { rtscts: flow === 'rts', xon: flow === 'xon', xoff: flow === 'xon' };
  const port = new SerialPort({ path, ...framing, ...held, autoOpen: false });
  await openPatiently(port);
  // A USB adapter that is pulled out may give neither an error nor `close`, while the package reads nothing over and
  // over and keeps a core busy (node-serialport bindings-cpp issue 162), so the port is watched.
  const watch = setInterval(async () => {
    if (isHungUp(port) || !(await isPortPresent(path))) port.destroy(new Error(`the port ${path} is gone`));
  }, PRESENCE_MILLISECONDS);
  watch.unref();
  port.once('close', () => clearInterval(watch));
  return {
    address: path,
    serial: true,
    line,
    characterMilliseconds: characterMilliseconds(settings),
    duplex: port,
    ...(flow === 'dtr' && { mayBeSent: () => untilDsr(port) }),
    close: () => {
      clearInterval(watch);
      return new Promise((resolve) => port.close(() => resolve()));
    },
  };
}

// A port that was closed a moment ago is locked until the last read on it has ended, which a busy machine delays.
async function openPatiently(port: SerialPort): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    const failure = await new Promise<Error | null>((opened) => port.open(opened));
    if (!failure) return;
    const found = openProblem(port.path, failure);
    if (found.code !== 'port-busy' || attempt === LOCK_ATTEMPTS) throw found;
    await wait(LOCK_PAUSE_MILLISECONDS);
  }
}

/** Whether the operating system has the port now; true as well where it does not say. */
export async function isPortPresent(path: string): Promise<boolean> {
  if (process.platform === 'win32') {
    const wanted = windowsName(path);
    return SerialPort.list().then(
      (ports) => ports.some((port) => windowsName(port.path) === wanted),
      () => true,
    );
  }
  return access(path).then(
    () => true,
    () => false,
  );
}

/** Windows takes `COM3`, `com3` and `\\.\COM3` for the same port and lists the first. */
function windowsName(path: string): string {
  return path.replace(/^\\\\\.\\/, '').toUpperCase();
}

/**
 * Whether the system has hung the port up: it is no terminal any more, although it is open. Windows has no such thing, and
 * there the package's `fd` is a handle, which is never a terminal to Node.
 */
function isHungUp({ port }: SerialPort): boolean {
  if (process.platform === 'win32') return false;
  return port !== undefined && 'fd' in port && port.fd !== null && !isatty(port.fd);
}

/** Start bit, data bits, parity bit and stop bits of one character, in milliseconds. */
function characterMilliseconds({ baudRate, dataBits, parity, stopBits }: SerialSettings): number {
  return ((1 + dataBits + (parity === 'none' ? 0 : 1) + stopBits) * 1000) / baudRate;
}

/** The package has no DTR/DSR handshake of its own: DSR is asked for until it is up. A port without such lines holds nothing. */
async function untilDsr(port: Pick<SerialPort, 'get' | 'isOpen'>): Promise<void> {
  while (port.isOpen) {
    const up = await new Promise<boolean>((told) =>
      port.get((failure, state) => told(failure !== null || !!state?.dsr)),
    );
    if (up) return;
    await wait(DSR_MILLISECONDS);
  }
}

// The binding gives only text. Windows says "Access denied" when another program has the port.
function openProblem(path: string, failure: Error): Problem {
  const why = failure.message.replace(/^Error:?\s*/, '');
  if (/cannot lock|busy|access denied/i.test(why)) return problem('port-busy', path);
  if (/permission denied/i.test(why)) return problem('port-forbidden', path);
  if (/no such file|file not found/i.test(why)) return problem('meter-unreachable', path, 'there is no such port');
  return problem('meter-unreachable', path, why);
}
