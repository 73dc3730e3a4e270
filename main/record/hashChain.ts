import { hash } from 'node:crypto';

/** What the first entry of a record follows. */
export const CHAIN_START = '0'.repeat(64);

/** SHA-256 (hex) that ties an entry to its place, its run, its very text and the entry before it. */
export function entryHash(previous: string, position: number, run: number, eventText: string): string {
  return hash('sha256', `${previous}\n${position}\n${run}\n${eventText}`, 'hex');
}
