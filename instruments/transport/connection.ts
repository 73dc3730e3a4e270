import type { Duplex } from 'node:stream';

/** An open way to a meter: bytes in both directions, nothing about what they mean. */
export interface Connection {
  readonly address: string;
  /** True on RS-232, where a meter wants to be taken into remote control and given back. */
  readonly serial: boolean;
  readonly duplex: Duplex;
  /** Frees the port or socket. May wait for the operating system; `Lines.close` puts a deadline on it. */
  close(): Promise<void>;
}
