import { problem } from '../../core/problem/problem.ts';
import { REEL_NAMES, type ReelName } from '../bench/reels.ts';
import { STRESS_NAMES, type StressName } from '../bench/stress.ts';
import type { Connection } from './connection.ts';
import { type LineSettings, usualLineSettings } from './lineSettings.ts';
import { openSerial, type SerialSettings, usualSerialSettings } from './serial.ts';
import { openTcp } from './tcp.ts';

/** Where a meter is, how its line is set, and the dialect it is spoken to in. */
export type Address = (
  | ({ kind: 'sim'; seed: number | null } & Laid)
  | { kind: 'tcp'; host: string; port: number }
  | { kind: 'serial'; path: string; settings: SerialSettings }
) & {
  line: LineSettings;
  /** Name of the dialect; null where the address names none. */
  dialect: string | null;
};

/** What an address lays on the simulated bench. */
interface Laid {
  reel: ReelName;
  /** What the pieces have been through; null for nothing. */
  stress: StressName | null;
}

/** What may stand behind the question mark of an address, as far as it was read. */
interface Options {
  laid: Laid;
  serial: SerialSettings;
  line: LineSettings;
  dialect: string | null;
}

/** One option: what its value must look like, and what it sets. */
type Option = [pattern: RegExp, set: (options: Options, value: string) => void];

const SERIAL_OPTIONS: Record<string, Option> = {
  baud: [/^[1-9]\d{1,6}$/, ({ serial }, value) => Object.assign(serial, { baudRate: Number(value) })],
  bits: [/^[78]$/, ({ serial }, value) => Object.assign(serial, { dataBits: Number(value) })],
  parity: [/^(none|even|odd)$/, ({ serial }, value) => Object.assign(serial, { parity: value })],
  stop: [/^[12]$/, ({ serial }, value) => Object.assign(serial, { stopBits: Number(value) })],
  flow: [/^(none|rts|xon|dtr)$/, ({ serial }, value) => Object.assign(serial, { flow: value })],
};

const LINE_OPTIONS: Record<string, Option> = {
  out: [/^(lf|cr|crlf)$/, ({ line }, value) => Object.assign(line, { out: value })],
  in: [/^(any|lf|cr|crlf)$/, ({ line }, value) => Object.assign(line, { in: value })],
  echo: [/^(auto|on|off)$/, ({ line }, value) => Object.assign(line, { echo: value })],
  delay: [/^\d{1,4}$/, ({ line }, value) => Object.assign(line, { delayMilliseconds: Number(value) })],
  longest: [/^[1-9]\d{1,3}$/, ({ line }, value) => Object.assign(line, { longestCommand: Number(value) })],
  dialect: [/^[a-z0-9][a-z0-9-]{0,39}$/, (options, value) => Object.assign(options, { dialect: value })],
};

const oneOf = (names: readonly string[]) => new RegExp(`^(${names.join('|')})$`);

const BENCH_OPTIONS: Record<string, Option> = {
  reel: [oneOf(REEL_NAMES), ({ laid }, value) => Object.assign(laid, { reel: value })],
  stressed: [oneOf(STRESS_NAMES), ({ laid }, value) => Object.assign(laid, { stress: value })],
};

/**
 * Reads a meter's address: `sim:` or `sim:<seed>`, `tcp://host:port`, or the path of a serial port. Each may carry how
 * the line is set and the dialect, a serial port its own settings too:
 * `/dev/ttyUSB0?baud=19200&bits=7&parity=even&stop=2&flow=rts&out=crlf&in=cr&echo=on&delay=20&longest=80&dialect=scpi`.
 * The simulated bench has a choice of reels, before and after a treatment: `sim:7?reel=drifting&stressed=heat`.
 * @throws {Problem} address-unreadable
 */
export function readAddress(text: string): Address {
  const [, where = '', options] = /^([^?]*)(?:\?(.*))?$/s.exec(text.trim()) ?? [];
  const found = readSim(where, options) ?? readTcp(where, options) ?? readSerial(where, options);
  if (!found) throw problem('address-unreadable', text);
  return found;
}

function readSim(where: string, options: string | undefined): Address | null {
  const match = /^sim:(\d{1,9})?$/.exec(where);
  const read = readOptions(options, { ...BENCH_OPTIONS, ...LINE_OPTIONS });
  if (!match || !read) return null;
  return {
    kind: 'sim',
    seed: match[1] === undefined ? null : Number(match[1]),
    ...read.laid,
    line: read.line,
    dialect: read.dialect,
  };
}

function readTcp(where: string, options: string | undefined): Address | null {
  const match = /^tcp:\/\/(?:\[([0-9a-f:.]+)\]|([a-z0-9._-]+)):(\d{1,5})\/?$/i.exec(where);
  const host = match?.[1] ?? match?.[2];
  const port = Number(match?.[3]);
  const read = readOptions(options, LINE_OPTIONS);
  if (host === undefined || !(port >= 1 && port <= 65535) || !read) return null;
  return { kind: 'tcp', host, port, line: read.line, dialect: read.dialect };
}

function readSerial(where: string, options: string | undefined): Address | null {
  const path = /^((?:\\\\\.\\)?COM\d+|[^\s:]*\/[^\s:]+)$/i.exec(where)?.[1];
  const read = readOptions(options, { ...SERIAL_OPTIONS, ...LINE_OPTIONS });
  if (path === undefined || !read) return null;
  return { kind: 'serial', path, settings: read.serial, line: read.line, dialect: read.dialect };
}

function readOptions(text: string | undefined, known: Record<string, Option>): Options | null {
  const options: Options = {
    laid: { reel: 'usual', stress: null },
    serial: { ...usualSerialSettings },
    line: { ...usualLineSettings },
    dialect: null,
  };
  for (const [name, value] of new URLSearchParams(text ?? '')) {
    const [pattern, set] = (Object.hasOwn(known, name) && known[name]) || [];
    if (!pattern?.test(value) || !set) return null;
    set(options, value);
  }
  return options;
}

/**
 * Opens the way to a real meter, or to a bench served elsewhere.
 * @throws {Problem} port-busy, port-forbidden, meter-unreachable
 */
export function openTransport(address: Exclude<Address, { kind: 'sim' }>, signal?: AbortSignal): Promise<Connection> {
  return address.kind === 'tcp'
    ? openTcp(address.host, address.port, { line: address.line, signal })
    : openSerial(address.path, address.settings, address.line);
}
