import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { LotClaimInput } from '../core/inspection/lotClaim.ts';
import { reelohm } from './reelohm.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** A lot as the built program inspects it on the simulated bench, and the file of its certificate. */
export async function inspectedLot(
  claim: LotClaimInput,
  more: string[] = [],
): Promise<{ status: number | null; err: string; out: string; certificate: string }> {
  const folder = temporaryFolder();
  const [lot, certificate] = [join(folder, 'lot.json'), join(folder, 'certificate.csv')];
  writeFileSync(lot, JSON.stringify(claim));
  const where = ['--meter', 'sim:7', '--data', folder, '--certificate', certificate];
  return { ...(await reelohm(['inspect', lot, ...where, ...more])), certificate };
}
