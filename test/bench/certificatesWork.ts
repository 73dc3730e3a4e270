import { createHash } from 'node:crypto';
import { createReadStream, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parse } from 'csv-parse';
import { CERTIFICATE } from '../../core/certificate/certificateFormat.ts';
import { writeCertificate } from '../../core/certificate/certificateOf.ts';
import { signatureRow } from '../../core/certificate/closedFile.ts';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { apply } from '../../core/inspection/apply.ts';
import { decide } from '../../core/inspection/decide.ts';
import { checkDue, type Run } from '../../core/inspection/run.ts';
import { Problem } from '../../core/problem/problem.ts';
import { FileBeingWritten } from '../../main/certificates/fileBeingWritten.ts';
import { withFileOnDisk } from '../../main/certificates/fileOnDisk.ts';
import { sha256OfNode } from '../../main/certificates/sha256OfNode.ts';
import { decidedRun, readyRun, timeAt, wholeRound } from '../core/inspection/walk.ts';
import { SIGNER } from '../signer.ts';

// One step of test/bench/certificates.ts: its figures as a line of JSON.
const [readings = '', step = '', file = ''] = process.argv.slice(2);
const MEGABYTE = 1e6;

/** A lot of normal values with their digits, checks of the bench after every thousand. */
function runOf(size: number): Run {
  const checks = { everyReadings: 1000, everyMinutes: 1440 };
  let run = readyRun({ lot: { number: 'L', size: 2 * size }, plan: { sampleSize: size, accept: size - 1 }, checks });
  let state = 1;
  const random = () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
  for (let reading = 0; reading < size; reading++) {
    if (checkDue(run) !== null) run = wholeRound(run);
    const ohms = 4700 + 20 * (random() + random() + random() + random() - 2);
    const measured = { raw: `+${(ohms / 1000).toFixed(5)}E+03` };
    const events = decide(run, { type: 'record-reading', measured }, timeAt(reading));
    if (events instanceof Problem) throw events;
    for (const event of events) run = apply(run, event);
  }
  return decidedRun(run, 'accepted');
}

/** As certify.ts does in its thread and behind it, without the start of a thread. */
async function write(): Promise<object> {
  const run = runOf(Number(readings));
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const about = { run: 1, version: 'bench', publicKey: SIGNER.publicKey, reprint: null };
  const start = performance.now();
  const written = await FileBeingWritten.begin(folder);
  const digest = writeCertificate(run, about, 'dot', (bytes) => written.put(bytes), undefined, sha256OfNode());
  written.put(Buffer.from(signatureRow(digest, CERTIFICATE, 'dot', SIGNER)));
  await written.finish();
  const file = join(folder, 'certificate.csv');
  await written.name(file);
  await written.end();
  return { file, milliseconds: performance.now() - start, megabytes: statSync(file).size / MEGABYTE };
}

function verify(): object {
  const before = process.memoryUsage().rss;
  const start = performance.now();
  const { readings: verified } = withFileOnDisk(file, (bytes) => verifyCertificate(bytes));
  const milliseconds = performance.now() - start;
  if (verified !== Number(readings)) throw new Error(`${verified} readings were verified`);
  return { milliseconds, megabytes: (process.resourceUsage().maxRSS * 1024 - before) / MEGABYTE };
}

async function peer(): Promise<object> {
  const start = performance.now();
  const hash = createHash('sha256');
  const stream = createReadStream(file).on('data', (chunk) => hash.update(chunk));
  let rows = 0;
  for await (const _ of stream.pipe(parse({ recordDelimiter: '\r\n' }))) rows++;
  hash.digest('hex');
  return { milliseconds: performance.now() - start, rows };
}

async function done(): Promise<object> {
  switch (step) {
    case 'write':
      return write();
    case 'verify':
      return verify();
    case 'peer':
      return peer();
    default:
      rmSync(dirname(file), { recursive: true });
      return {};
  }
}

console.log(JSON.stringify(await done()));
