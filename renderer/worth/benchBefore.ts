import type { Entry } from '../../core/contract/contract.ts';
import { fold } from '../../core/inspection/apply.ts';
import type { AtTheBench } from '../../core/inspection/worth.ts';

/**
 * The bench as it was right before a reading: a later round of checks may have changed the zero, the ambient temperature
 * or the reference, and none of that has part in what the reading was worth. Null where the entries do not hold the reading.
 */
export function benchBefore(entries: readonly Entry[], reading: number): AtTheBench | null {
  const events = entries.map(({ event }) => event);
  const taken = events.findIndex((event) => event.type === 'reading-taken' && event.reading === reading);
  if (taken < 0) return null;
  // Readings change nothing at the bench, and there may be very many of them.
  const atTheBench = events.slice(0, taken).filter(({ type }) => type !== 'reading-taken' && type !== 'reading-voided');
  return fold(atTheBench);
}
