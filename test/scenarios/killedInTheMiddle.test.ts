import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { exampleLot } from '../exampleLot.ts';
import { lineFrom, reelohm, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const SAMPLE = 400;
const KILLS = 5;

/**
 * The program is killed with no chance to say goodbye, again and again, each time after another number of readings
 * was shown. What was shown must be in the record, and the run must end as if nothing had happened.
 */
it('keeps every reading that was shown through kill -9, and goes on', async () => {
  const folder = temporaryFolder();
  const lot = join(folder, 'lot.json');
  writeFileSync(lot, JSON.stringify(exampleLot({ sampleSize: SAMPLE, accept: SAMPLE - 1 })));
  const bench = startReelohm(['bench', '--port', '0', '--seed', '7', '--no-pace']);
  const [, address = ''] = await lineFrom(bench.stdout, /answers at (\S+)/);

  const shown = new Map<number, string>();
  for (let kill = 0; kill < KILLS; kill++) {
    const what = kill === 0 ? [lot] : ['--go-on', '1'];
    const child = startReelohm(['inspect', ...what, '--meter', address, '--data', folder, '--json']);
    let here = 0;
    for await (const line of createInterface({ input: child.stdout })) {
      const said = JSON.parse(line);
      if (said.type !== 'reading-taken') continue;
      shown.set(said.reading, said.raw);
      here += 1;
      if (here === 7 + kill * 13) child.kill('SIGKILL');
    }
    if (child.signalCode === null && child.exitCode === null) await once(child, 'exit');
    expect(child.signalCode).toBe('SIGKILL');
  }

  const end = await reelohm(['inspect', '--go-on', '1', '--meter', address, '--data', folder, '--json']);
  expect(end.status).toBe(0);
  const lines = end.out
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  for (const said of lines) if (said.type === 'reading-taken') shown.set(said.reading, said.raw);
  const result = lines.find(({ type }) => type === 'result');
  expect(result).toMatchObject({ disposition: 'accepted', counted: SAMPLE });

  const { file } = result.certificate;
  expect((await reelohm(['verify', file])).status).toBe(0);
  const kept = new Map<number, string>();
  const rows: Record<string, string>[] = parse(readFileSync(file, 'utf8'), { columns: true });
  for (const row of rows) {
    if (row.row === 'reading') kept.set(Number(row.item), row.meter_text ?? '');
  }
  for (const [reading, raw] of shown) expect(kept.get(reading), `reading ${reading}`).toBe(raw);
  expect(kept.size).toBe(SAMPLE);
}, 120_000);
