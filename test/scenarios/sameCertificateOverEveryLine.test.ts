import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { scenarioForPart } from '../../instruments/bench/scenario.ts';
import { exampleLot } from '../exampleLot.ts';
import { openPtyPair, socatIsHere, startPtyBench } from '../instruments/ptyPair.ts';
import { lineFrom, reelohm, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const SEED = 7;
// The reel that the bench command makes of 4k7 and 1 %.
const REEL = scenarioForPart({ seed: SEED, nominalOhms: 4700, lowerOhms: 4653, upperOhms: 4747, pace: 'none' });

/** Inspects the example lot from the command line; returns the certificate's file. */
async function inspected(meter: string): Promise<{ status: number | null; file: string }> {
  const folder = temporaryFolder();
  const lot = join(folder, 'lot.json');
  writeFileSync(lot, JSON.stringify(exampleLot({ aql: '0.65', level: 'II' })));
  const { status, out, err } = await reelohm(['inspect', lot, '--meter', meter, '--data', folder, '--json']);
  expect(err).toBe('');
  const lines = out
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  const result = lines.find(({ type }) => type === 'result');
  expect(lines.filter(({ type }) => type === 'reading-taken')).toHaveLength(result.counted);
  return { status, file: result.certificate.file };
}

/** A certificate without what time and station change: the times, digest and signature over them, the key. */
function timeless(file: string): Record<string, string>[] {
  const rows: Record<string, string>[] = parse(readFileSync(file, 'utf8'), { columns: true });
  return rows
    .filter(({ row, item }) => row !== 'digest' && row !== 'signature' && item !== 'key')
    .map(({ at, ...rest }) => rest);
}

it('gives the same certificate in-process, over TCP and over a serial line, each with the bench as an instrument', async () => {
  const inProcess = await inspected(`sim:${SEED}`);
  expect((await reelohm(['verify', inProcess.file])).status).toBe(0);
  const expected = timeless(inProcess.file);
  // Code letter L, AQL 0.65: 200, 3/4 (MIL-STD-105E, Tables I and II-A).
  expect(expected.filter((row) => row.row === 'reading').length).toBeLessThanOrEqual(200);

  const bench = startReelohm(['bench', '--port', '0', '--seed', String(SEED), '--no-pace']);
  const [, address = ''] = await lineFrom(bench.stdout, /answers at (\S+)/);
  const overTcp = await inspected(address);
  expect(overTcp.status).toBe(inProcess.status);
  expect(timeless(overTcp.file)).toEqual(expected);

  if (!socatIsHere()) return;
  const pair = await openPtyPair();
  const far = await startPtyBench(pair, REEL);
  try {
    const overSerial = await inspected(pair.near);
    expect(overSerial.status).toBe(inProcess.status);
    expect(timeless(overSerial.file)).toEqual(expected);
  } finally {
    await far.stop();
    await pair.stop();
  }
}, 120_000);
