import { problem } from '../../core/problem/problem.ts';
import type { Connection } from './connection.ts';
import { openSerial, type SerialSettings, usualSerialSettings } from './serial.ts';
import { openTcp } from './tcp.ts';

export type Address =
  | { kind: 'sim'; seed: number | null }
  | { kind: 'tcp'; host: string; port: number }
  | { kind: 'serial'; path: string; settings: SerialSettings };

/**
 * Reads a meter's address: `sim:` or `sim:<seed>`, `tcp://host:port`, or the path of a serial port, which may carry
 * its settings: `/dev/ttyUSB0?baud=115200&bits=7&parity=even&stop=2`.
 * @throws {Problem} address-unreadable
 */
export function readAddress(text: string): Address {
  const address = text.trim();
  const found = readSim(address) ?? readTcp(address) ?? readSerial(address);
  if (!found) throw problem('address-unreadable', text);
  return found;
}

function readSim(address: string): Address | null {
  const match = /^sim:(\d{1,9})?$/.exec(address);
  return match ? { kind: 'sim', seed: match[1] === undefined ? null : Number(match[1]) } : null;
}

function readTcp(address: string): Address | null {
  const match = /^tcp:\/\/(?:\[([0-9a-f:.]+)\]|([a-z0-9._-]+)):(\d{1,5})\/?$/i.exec(address);
  const host = match?.[1] ?? match?.[2];
  const port = Number(match?.[3]);
  return host !== undefined && port >= 1 && port <= 65535 ? { kind: 'tcp', host, port } : null;
}

function readSerial(address: string): Address | null {
  const match = /^((?:\\\\\.\\)?COM\d+|[^\s?:]*\/[^\s?:]+)(?:\?(.*))?$/i.exec(address);
  const path = match?.[1];
  if (path === undefined) return null;
  const settings = readSettings(new URLSearchParams(match?.[2] ?? ''));
  return settings && { kind: 'serial', path, settings };
}

function readSettings(wanted: URLSearchParams): SerialSettings | null {
  const settings = { ...usualSerialSettings };
  for (const [name, value] of wanted) {
    if (name === 'baud' && /^\d{2,7}$/.test(value) && Number(value) > 0) settings.baudRate = Number(value);
    else if (name === 'bits' && (value === '7' || value === '8')) settings.dataBits = value === '7' ? 7 : 8;
    else if (name === 'parity' && (value === 'none' || value === 'even' || value === 'odd')) settings.parity = value;
    else if (name === 'stop' && (value === '1' || value === '2')) settings.stopBits = value === '1' ? 1 : 2;
    else return null;
  }
  return settings;
}

/**
 * Opens the way to a real meter, or to a bench served elsewhere.
 * @throws {Problem} port-busy, port-forbidden, meter-unreachable
 */
export function openTransport(address: Exclude<Address, { kind: 'sim' }>, signal?: AbortSignal): Promise<Connection> {
  return address.kind === 'tcp'
    ? openTcp(address.host, address.port, signal)
    : openSerial(address.path, address.settings);
}
