import { execFileSync } from 'node:child_process';
import { join } from 'node:path';

/** One way of doing something with a certificate, in a process of its own. */
export interface CertificateFigures {
  /** Until the file is on the disk, its run being there packed; and until it is verified from the disk. */
  writeMilliseconds: number;
  verifyMilliseconds: number;
  /** What a plain reading of the same bytes takes: csv-parse to cells and SHA-256 by Node. */
  peerMilliseconds: number;
  /** The most memory above what was there before, the packed run with it. */
  verifyMegabytes: number;
  fileMegabytes: number;
}

/** Writes and verifies a certificate of so many readings; each step in a process of its own, so that memory is its own. */
export function measureCertificate(readings: number): CertificateFigures {
  const did = (...args: string[]) =>
    JSON.parse(
      execFileSync(process.execPath, [join(import.meta.dirname, 'certificatesWork.ts'), String(readings), ...args], {
        encoding: 'utf8',
        maxBuffer: 1e8,
        stdio: ['ignore', 'pipe', 'ignore'],
      }),
    );
  const written = did('write');
  const verified = did('verify', written.file);
  const peer = did('peer', written.file);
  did('end', written.file);
  return {
    writeMilliseconds: written.milliseconds,
    verifyMilliseconds: verified.milliseconds,
    peerMilliseconds: peer.milliseconds,
    verifyMegabytes: verified.megabytes,
    fileMegabytes: written.megabytes,
  };
}
