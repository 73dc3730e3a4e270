import type { Duplex } from 'node:stream';
import type { LineSettings } from './lineSettings.ts';

/** An open way to a meter: bytes in both directions, nothing about what they mean. */
export interface Connection {
  readonly address: string;
  /** True on RS-232, where a meter wants to be taken into remote control and given back. */
  readonly serial: boolean;
  readonly line: LineSettings;
  /** How long one character takes on the line, in milliseconds; 0 where the line is not what limits. */
  readonly characterMilliseconds: number;
  readonly duplex: Duplex;
  /** Resolves when the meter lets itself be sent to; where that needs no asking it is left out. Never rejects. */
  readonly mayBeSent?: () => Promise<void>;
  /** Frees the port or socket. May wait for the operating system; `Lines.close` puts a deadline on it. */
  close(): Promise<void>;
}
