import type { Run } from './run.ts';

/**
 * Whether the certificate that was written last says no longer what is so: the lot was decided anew since, or what was decided or typed
 * was corrected. False where none was written.
 */
export function isCertificateStale({ certificates, decided, history }: Run): boolean {
  const written = certificates.at(-1);
  if (written === undefined) return false;
  const corrected = history.findLast(({ kind }) => kind === 'fact-corrected');
  const changes = [decided?.at, corrected?.kind === 'fact-corrected' ? corrected.at : undefined];
  // Times have their offset, which moves with the season: they are compared as moments.
  return changes.some((at) => at !== undefined && Date.parse(at) > Date.parse(written.at));
}
