import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import type { WiringInput } from '../../instruments/bench/wiring.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const CSV = 'wire,from,to,expected\nW1,A1,B1,closed\nW2,A2,B2,closed\nW3,A3,B3,closed\n';

async function job(faults: WiringInput['faults'], csv = CSV) {
  const folder = temporaryFolder();
  const list = join(folder, 'door.csv');
  writeFileSync(list, csv);
  const wires = ['1', '2', '3'].map((n) => ({ from: `A${n}`, to: `B${n}`, ohms: 0.1 }));
  const scenario = { meter: { pace: 'none' as const }, wiring: { wires, faults } };
  const server = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario });
  onTestFinished(() => server.close());
  const args = (...more: string[]) => [
    'continuity',
    list,
    '--meter',
    server.address,
    '--inspector',
    'Ines Okoro',
    '--data',
    folder,
    ...more,
  ];
  return { folder, list, args, address: server.address };
}

describe('a continuity run on the command line', () => {
  it('is accepted where every point is as expected, and its certificate verified', async () => {
    const { args, folder } = await job([]);
    const { status, out } = await reelohm(args('--serial', '0042'));
    expect(status).toBe(0);
    expect(out).toMatch(/^1 of 6, A1 – B1, expected closed: .* as expected$/m);
    expect(out).toMatch(/^4 of 6, A1 – A2, expected open: overload, as expected$/m);
    expect(out).toContain('accepted: 6 points: 6 as expected');
    expect(out).toContain('insulation tester');
    const [, file = ''] = /^Certificate: (.*)$/m.exec(out) ?? [];
    const verified = await reelohm(['verify', file, '--data', folder]);
    expect([verified.status, verified.out]).toEqual([0, expect.stringContaining('Continuity run 1')]);
    expect(verified.out).toContain('Signed by the key of this station');
  });

  it('says for programs what is wrong, and by its status that it is not accepted', async () => {
    const { args } = await job([{ kind: 'swapped', wires: [1, 2] }]);
    const { status, out } = await reelohm(args('--cross', 'all', '--json'));
    expect(status).toBe(1);
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.filter(({ type }) => type === 'continuity-point-read')).toHaveLength(15);
    expect(lines.at(-1)).toMatchObject({
      type: 'result',
      run: 1,
      disposition: 'not-accepted',
      simulated: true,
      'not-as-expected': 4,
      swapped: ['A1 – B1 and A2 – B2 look swapped'],
    });
  });

  it('names the row and column of a list that is faulty, and keeps nothing of it', async () => {
    const { args } = await job([], 'from,to\nA1,B1\nB1,A1\n');
    const { status, err } = await reelohm(args());
    expect(status).toBe(2);
    expect(err).toContain('Row 3 of the list');
    expect(err).toContain('[continuity-list-faulty]');
  });

  it('asks for a limit that a bench meter can tell', async () => {
    const { args } = await job([]);
    const { status, err } = await reelohm(args('--closed-below', '0.05'));
    expect([status, err]).toEqual([2, expect.stringContaining('use an instrument for low resistance')]);
  });
});
