import { problem } from '../../core/problem/problem.ts';
import type { Session } from '../scpi/session.ts';

/** Moves pieces on a simulated bench. At a real bench the operator's own hands do it. */
export interface Hands {
  /** Puts the probes on this piece of the lot, 1 and up. */
  place(piece: number): Promise<void>;
  /** Takes the probes off. */
  lift(): Promise<void>;
  /** Holds the probes against each other. */
  short(): Promise<void>;
}

const PLACE_MILLISECONDS = 3000;

/** Hands for a simulated bench on this session; null for a real meter. */
export function handsOf(identity: { simulated: boolean }, session: Session): Hands | null {
  if (!identity.simulated) return null;
  const put = async (where: string) => {
    const found = await session.query(`BENC:PLAC ${where};PLAC?`, PLACE_MILLISECONDS);
    if (found !== where) throw problem('setting-not-taken', 'the place of the probes', where, found);
  };
  return { place: (piece) => put(String(piece)), lift: () => put('OPEN'), short: () => put('SHOR') };
}
