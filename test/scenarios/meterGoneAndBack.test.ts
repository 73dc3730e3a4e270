import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, it } from 'vitest';
import { exampleLot } from '../exampleLot.ts';
import { type Child, lineFrom, reelohm, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const SAMPLE = 150;

async function benchAt(port: number): Promise<{ bench: Child; address: string; port: number }> {
  const bench = startReelohm(['bench', '--port', String(port), '--seed', '7', '--no-pace']);
  const [, address = ''] = await lineFrom(bench.stdout, /answers at (\S+)/);
  return { bench, address, port: Number(new URL(address).port) };
}

async function pullOut(bench: Child): Promise<void> {
  bench.kill('SIGKILL');
  await once(bench, 'exit');
}

function lotFile(folder: string): string {
  const file = join(folder, 'lot.json');
  writeFileSync(file, JSON.stringify(exampleLot({ sampleSize: SAMPLE, accept: SAMPLE - 1 })));
  return file;
}

it('pauses the run when the meter goes in the middle, and goes on when it is back', async () => {
  const folder = temporaryFolder();
  const { bench, address, port } = await benchAt(0);
  const child = startReelohm(['inspect', lotFile(folder), '--meter', address, '--data', folder, '--json']);
  const seen: string[] = [];
  let pieces = 0;
  let result: { counted?: number; disposition?: string } = {};
  for await (const line of createInterface({ input: child.stdout })) {
    const said = JSON.parse(line);
    if (said.type === 'reading-taken') {
      pieces += 1;
      expect(said.piece).toBe(pieces);
      if (pieces === 20) await pullOut(bench);
    } else seen.push(said.type);
    if (said.type === 'run-interrupted') await benchAt(port);
    if (said.type === 'result') result = said;
  }
  const [status] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
  expect(seen.filter((type) => type.startsWith('run-'))).toEqual(['run-interrupted', 'run-continued']);
  expect(result).toMatchObject({ counted: SAMPLE, disposition: 'accepted' });
  expect(status).toBe(0);
});

it('gives up after the time it was told to wait, keeps the run, and goes on with it later', async () => {
  const folder = temporaryFolder();
  const { bench, address, port } = await benchAt(0);
  const child = startReelohm([
    'inspect',
    lotFile(folder),
    '--meter',
    address,
    '--data',
    folder,
    '--json',
    '--wait',
    '1',
  ]);
  let pieces = 0;
  let complaint = '';
  child.stderr.on('data', (chunk) => {
    complaint += chunk;
  });
  for await (const line of createInterface({ input: child.stdout })) {
    if (JSON.parse(line).type !== 'reading-taken') continue;
    pieces += 1;
    if (pieces === 10) await pullOut(bench);
  }
  const [status] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
  expect(status).toBe(2);
  expect(complaint).toContain('[meter-lost]');
  expect(complaint).toContain('Go on with it by --go-on 1');

  await benchAt(port);
  const rest = await reelohm(['inspect', '--go-on', '1', '--meter', address, '--data', folder, '--json']);
  const result = JSON.parse(rest.out.trim().split('\n').at(-1) ?? '{}');
  expect(result).toMatchObject({ counted: SAMPLE, disposition: 'accepted' });
});
