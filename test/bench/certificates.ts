import { execFileSync } from 'node:child_process';
import { join } from 'node:path';

/** One way of doing something with a certificate, in a process of its own. */
export interface CertificateFigures {
  /** Until the file is on the disk, its run being there packed; and, the least of some, all of a process that verifies it. */
  writeMilliseconds: number;
  verifyMilliseconds: number;
  /** What a plain reading of the same bytes takes: csv-parse to cells and SHA-256 by Node. */
  peerMilliseconds: number;
  /** The most memory above what was there before, the packed run with it. */
  verifyMegabytes: number;
  fileMegabytes: number;
}

const TIMES = 5;
const ROOT = join(import.meta.dirname, '..', '..');

/** From the start of `reelohm verify` to its end. */
function millisecondsOfVerify(file: string): number {
  const start = performance.now();
  execFileSync(process.execPath, [join(ROOT, 'main', 'start.js'), 'verify', file], { stdio: 'ignore' });
  return performance.now() - start;
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
  const verifyMilliseconds = Math.min(...Array.from({ length: TIMES }, () => millisecondsOfVerify(written.file)));
  const peer = Array.from({ length: TIMES }, () => did('peer', written.file).milliseconds);
  did('end', written.file);
  return {
    writeMilliseconds: written.milliseconds,
    verifyMilliseconds,
    peerMilliseconds: Math.min(...peer),
    verifyMegabytes: verified.megabytes,
    fileMegabytes: written.megabytes,
  };
}
