import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, it } from 'vitest';
import { exampleLot } from '../exampleLot.ts';
import { lineFrom, reelohm, signalGroup, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

it('ends in order on Ctrl-C: what was read is kept, the bench is free, and the run goes on later', async () => {
  const folder = temporaryFolder();
  const lot = join(folder, 'lot.json');
  writeFileSync(lot, JSON.stringify(exampleLot({ sampleSize: 40, accept: 39 })));
  const bench = startReelohm(['bench', '--port', '0', '--seed', '7']);
  const [, address = ''] = await lineFrom(bench.stdout, /answers at (\S+)/);

  const child = startReelohm(['inspect', lot, '--meter', address, '--data', folder, '--json']);
  let complaint = '';
  child.stderr.on('data', (chunk) => {
    complaint += chunk;
  });
  let taken = 0;
  for await (const line of createInterface({ input: child.stdout })) {
    if (JSON.parse(line).type === 'reading-taken') taken += 1;
    if (taken === 5) signalGroup(child, 'SIGINT');
  }
  const [status] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
  expect(status).toBe(2);
  expect(complaint).toContain('[inspection-stopped]');
  expect(taken).toBeLessThan(40);

  const rest = await reelohm(['inspect', '--go-on', '1', '--meter', address, '--data', folder, '--json']);
  const lines = rest.out
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  expect(lines.find(({ type }) => type === 'reading-taken').piece).toBe(taken + 1);
  expect(lines.at(-1)).toMatchObject({ type: 'result', counted: 40, disposition: 'accepted' });
  expect(rest.status).toBe(0);
});
