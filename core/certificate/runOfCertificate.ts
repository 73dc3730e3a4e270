import type { Run } from '../inspection/run.ts';
import { cellsOfCsv } from './csv.ts';
import { readRun } from './readRun.ts';
import { RowReader } from './rowReader.ts';
import { verifyCertificate } from './verify.ts';

/** The run that an intact certificate is of, as far as its rows go. @throws problem certificate-broken */
export function runOfCertificate(bytes: Uint8Array): Run {
  verifyCertificate(bytes);
  // The digest row, which closes the file, is none of the run's.
  const { run, decided } = readRun(new RowReader(cellsOfCsv(bytes).slice(0, -1)));
  return { ...run, decided };
}
