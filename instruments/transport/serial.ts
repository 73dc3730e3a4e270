import { access } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { SerialPort } from 'serialport';
import { type Problem, problem } from '../../core/problem/problem.ts';
import type { Connection } from './connection.ts';

export interface SerialSettings {
  baudRate: number;
  dataBits: 7 | 8;
  parity: 'none' | 'even' | 'odd';
  stopBits: 1 | 2;
}

/** 9600 baud, 8 data bits, no parity, 1 stop bit: what a bench meter is most often set to (common practice). */
export const usualSerialSettings: SerialSettings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 };

const PRESENCE_MILLISECONDS = 1000;
const LOCK_ATTEMPTS = 5;
const LOCK_PAUSE_MILLISECONDS = 100;

/**
 * Opens a serial port.
 * @throws {Problem} port-busy, port-forbidden or meter-unreachable
 */
export async function openSerial(path: string, settings: SerialSettings): Promise<Connection> {
  const port = new SerialPort({ path, ...settings, autoOpen: false });
  await openPatiently(port);
  // A USB adapter that is pulled out may give neither an error nor `close` (node-serialport bindings-cpp issue 162),
  // so the port's own presence is watched.
  const watch = setInterval(async () => {
    if (!(await isPresent(path))) port.destroy(new Error(`the port ${path} is gone`));
  }, PRESENCE_MILLISECONDS);
  watch.unref();
  port.once('close', () => clearInterval(watch));
  return {
    address: path,
    serial: true,
    duplex: port,
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

async function isPresent(path: string): Promise<boolean> {
  if (process.platform === 'win32') return (await SerialPort.list()).some((port) => port.path === path);
  return access(path).then(
    () => true,
    () => false,
  );
}

// The binding gives only text. Windows says "Access denied" when another program has the port.
function openProblem(path: string, failure: Error): Problem {
  const why = failure.message.replace(/^Error:?\s*/, '');
  if (/cannot lock|busy|access denied/i.test(why)) return problem('port-busy', path);
  if (/permission denied/i.test(why)) return problem('port-forbidden', path);
  return problem('meter-unreachable', path, why);
}
