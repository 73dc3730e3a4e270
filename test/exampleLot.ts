import type { LotClaimInput } from '../core/inspection/lotClaim.ts';

/** A lot of our own invention for tests: 4.7 kΩ ±1 %, 5 000 pieces, and a short sample of agreed size. */
export function exampleLot(plan: LotClaimInput['plan'] = { sampleSize: 20, accept: 1 }): LotClaimInput {
  return {
    inspector: 'Ines Okoro',
    part: { number: 'TF-4K7-1', description: 'thin film, 1 %', nominal: '4k7', tolerance: '1 %' },
    lot: { number: 'L-2093', supplier: 'Example Supply', size: 5000 },
    plan,
    // Every nonconforming piece counts alike, so that a sample ends where the test says.
    classA: null,
  };
}
