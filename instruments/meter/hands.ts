import { problem } from '../../core/problem/problem.ts';

/** Moves pieces on a simulated bench. At a real bench the operator's own hands do it. */
export interface Hands {
  /** Puts the probes on this piece of the lot, 1 and up. */
  place(piece: number): Promise<void>;
  /** Takes the probes off. */
  lift(): Promise<void>;
  /** Holds the probes against each other. */
  short(): Promise<void>;
}

/** Hands for a simulated bench, which is asked by `ask`; null for a real meter. */
export function handsOf(identity: { simulated: boolean }, ask: (query: string) => Promise<string>): Hands | null {
  if (!identity.simulated) return null;
  const put = async (where: string) => {
    const found = await ask(`BENC:PLAC ${where};PLAC?`);
    if (found !== where) throw problem('setting-not-taken', 'the place of the probes', where, found);
  };
  return { place: (piece) => put(String(piece)), lift: () => put('OPEN'), short: () => put('SHOR') };
}
