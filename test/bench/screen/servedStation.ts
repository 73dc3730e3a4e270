import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Entry } from '../../../core/contract/contract.ts';
import { CAUTIONS } from '../../../core/inspection/cautions.ts';
import type { InspectionEvent } from '../../../core/inspection/event.ts';
import { CHECKS } from '../../../core/readiness/check.ts';
import { serveLoopback } from '../../../main/loopback/serveLoopback.ts';
import { openRecord } from '../../../main/record/record.ts';
import { openStation, type Station } from '../../../main/station/station.ts';
import { recordInMemory } from './seededRecord.ts';

// A real station on the loopback door, in a process of its own, with one run that holds so many readings already and is not
// decided. Told to, it takes readings of its simulated bench.

/** What the process is told. */
export type Order = { take: number; perSecond: number };
/** What it says: where it is, and which pieces were read when (milliseconds since 1970). */
export type Report = { address: string } | { taken: [piece: number, at: number][] };

/** A whole round of checks holds for so many readings. */
const READINGS_OF_A_ROUND = 1000;
const BY = 'bench';
const METER = 'sim:7';
const RUN = 1;

const count = Number(process.argv[2]);
const isOnDisk = process.argv[3] === 'disk';
const data = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
const folders = { data, certificates: join(data, 'certificates') };
const rendererFolder = join(import.meta.dirname, '../../../dist/renderer');

/** The beginning as the station itself makes it: the lot received, the bench ready, one reading. */
async function beginning(): Promise<InspectionEvent[]> {
  const entries: Entry[] = [];
  const station = openStation({ folders, version: 'bench', record: recordInMemory(entries) });
  await station.ask('receive-lot', {
    claim: {
      inspector: BY,
      part: { number: 'TF-4K7-1', nominal: '4k7', tolerance: '1 %' },
      lot: { number: 'L-2093', size: count + 2 * READINGS_OF_A_ROUND },
      plan: { sampleSize: count + 2 * READINGS_OF_A_ROUND, accept: count },
      checks: { everyReadings: READINGS_OF_A_ROUND },
    },
  });
  await makeReady(station);
  await station.ask('take-reading', { run: RUN });
  await station.close();
  return entries.map(({ event }) => event);
}

async function makeReady(station: Station): Promise<void> {
  await station.ask('connect-meter', { run: RUN, address: METER });
  await station.ask('confirm-bench', { run: RUN, by: BY, cautions: [...CAUTIONS] });
  for (const check of CHECKS) await station.ask('check-bench', { run: RUN, by: BY, check });
}

/** The same, with as many readings as are wanted, half a second apart, and a round of checks after each thousand. */
function* withReadings(begun: readonly InspectionEvent[]): Generator<InspectionEvent> {
  const first = begun.at(-1);
  if (first?.type !== 'reading-taken' || first.ohms === null) throw new Error('the bench gave no reading');
  const round = begun.filter(({ type }) => type === 'bench-checked');
  const began = Date.parse(first.at);
  const timeOf = (piece: number) => new Date(began + piece * 500).toISOString().replace('Z', '+00:00');
  yield* begun.slice(0, -1);
  for (let piece = 1; piece <= count; piece++) {
    // Noise, a slow wave, and one in five hundred beyond its limit.
    const noise = ((piece * 7919) % 997) / 997 - 0.5;
    const isOut = piece % 500 === 250;
    const ohms = (4700 + 8 * Math.sin(piece / 9000) + 24 * noise + (isOut ? 60 : 0)).toFixed(3);
    const verdict = isOut ? 'fail-high' : 'pass';
    const raw = `+${Number(ohms).toExponential(6).replace('e+', 'E+0')}`;
    yield { ...first, at: timeOf(piece), reading: piece, piece, raw, ohms, verdict };
    if (piece % READINGS_OF_A_ROUND === 0) for (const check of round) yield { ...check, at: timeOf(piece) };
  }
}

const events = withReadings(await beginning());
const record = isOnDisk ? openRecord(data) : recordInMemory([]);
let batch: InspectionEvent[] = [];
const keep = () => {
  record.append(RUN, batch);
  batch = [];
};
for (const event of events) if (batch.push(event) === 1000) keep();
keep();
// The record of the disk is read as it is at any start.
if (isOnDisk) record.close();
const station = openStation({ folders, version: 'bench', ...(isOnDisk ? {} : { record }) });
await makeReady(station);
const { address, close } = await serveLoopback({ station, rendererFolder });
process.send?.({ address } satisfies Report);

process.on('message', async ({ take, perSecond }: Order) => {
  const taken: [number, number][] = [];
  const began = performance.now();
  for (let index = 0; index < take; index++) {
    await wait(Math.max(0, began + (index * 1000) / perSecond - performance.now()));
    const { entry } = await station.ask('take-reading', { run: RUN });
    if (entry.event.type === 'reading-taken') taken.push([entry.event.piece, Date.parse(entry.event.at)]);
  }
  process.send?.({ taken } satisfies Report);
});

process.on('disconnect', async () => {
  await close();
  await station.close();
  rmSync(data, { recursive: true, force: true });
  process.exit();
});
