import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { CERTIFICATE } from '../../../core/certificate/certificateFormat.ts';
import { certificateOf, writeCertificate } from '../../../core/certificate/certificateOf.ts';
import { signatureRow } from '../../../core/certificate/closedFile.ts';
import type { Signer } from '../../../core/certificate/signature.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { SIGNER } from '../../signer.ts';
import { decidedRun, METER, readyRun, walk, withReadings } from '../inspection/walk.ts';

export const ABOUT = { run: 7, version: '0.1.0', reprint: null };

/** A small accepted run: six readings of five pieces, the third made void and measured again, the fifth too high. */
export function acceptedRun(over: Partial<LotClaimInput> = {}, meter: MeterFacts = METER): Run {
  let run = withReadings(readyRun(over, meter), '+4.70213E+03', '+4.69950E+03', '+4.10000E+03');
  run = walk(run, { type: 'void-reading', reading: 3, by: 'Ines Okoro', reason: 'probe slipped' });
  run = withReadings(run, '+4.70100E+03', '+4653', '+4.74701E+03');
  return decidedRun(run, 'accepted');
}

/** A small run that reached its rejection number: one open, one too low. */
export function refusedRun(): Run {
  const run = withReadings(readyRun(), '+4.70213E+03', '+9.90000000E+37', '4652.9');
  return decidedRun(run, 'not-accepted', 'open pieces');
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function certificateBytes(run: Run): Uint8Array {
  return bytesOf(certificateOf(run, ABOUT, SIGNER));
}

/** The same certificate for a spreadsheet with a decimal comma. */
export function commaText(run: Run): string {
  const chunks: Uint8Array[] = [];
  const about = { ...ABOUT, publicKey: SIGNER.publicKey };
  const digest = writeCertificate(run, about, 'comma', (chunk) => chunks.push(chunk));
  return Buffer.concat(chunks).toString() + signatureRow(digest, CERTIFICATE, 'comma', SIGNER);
}

/** The rows as another program reads them, digest and signature included. */
export function rowsOfFile(text: string): string[][] {
  return parse(text, { recordDelimiter: '\r\n' });
}

/**
 * A file as a forger would close it: a digest that fits what stands before, signed. Not made with the program's own code.
 * @param signer here the key of the station itself, so that only what the rows say can tell
 */
export function closedBy(body: Buffer, signer: Signer = SIGNER, format = 'Reelohm certificate 5'): Uint8Array {
  const columns = body.subarray(0, body.indexOf('\r')).toString().split(',').length;
  const empty = ','.repeat(columns - 3);
  const digest = createHash('sha256').update(body).digest('hex');
  const signature = Buffer.from(signer.sign(Buffer.from(`Reelohm signature 1\n${format}\n${digest}\n`))).toString(
    'hex',
  );
  const closing = `digest,sha-256,${digest}${empty}\r\nsignature,ed25519,${signature}${empty}\r\n`;
  return new Uint8Array(Buffer.concat([body, Buffer.from(closing)]));
}

/** These rows, closed by a forger. */
export function forged(rows: string[][], signer: Signer = SIGNER): Uint8Array {
  return closedBy(Buffer.from(stringify(rows, { record_delimiter: 'windows' })), signer);
}

/** Rows of a certificate without digest and signature, to be changed by a forger. */
export function openRows(run: Run): string[][] {
  return rowsOfFile(certificateOf(run, ABOUT, SIGNER)).slice(0, -2);
}

/** What verification says against these bytes; a test fails where it says nothing. */
export function refusal(bytes: Uint8Array): string {
  try {
    verifyCertificate(bytes);
  } catch (thrown) {
    if (thrown instanceof Problem && thrown.code === 'certificate-broken') return thrown.what;
    throw thrown;
  }
  throw new Error('the file was taken for intact');
}

/** Puts words into one cell of the row with this row and item. Returns the number of that row, the header being 1. */
export function set(rows: string[][], row: string, item: string, column: string, value: string): number {
  const index = rows.findIndex((cells) => cells[0] === row && cells[1] === item);
  const cells = rows[index];
  if (!cells || !rows[0]?.includes(column)) throw new Error(`no ${row}, ${item}, ${column}`);
  cells[rows[0].indexOf(column)] = value;
  return index + 1;
}
