import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { describe, expect, it, onTestFinished } from 'vitest';
import { verifyContinuity } from '../../core/continuity/verifyContinuity.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import type { WiringInput } from '../../instruments/bench/wiring.ts';
import { reelohm, signalGroup, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { tinyMeter } from '../tinyMeter.ts';

const CSV = 'wire,from,to,expected\nW1,A1,B1,closed\nW2,A2,B2,closed\nW3,A3,B3,closed\n';

async function job(faults: WiringInput['faults'], csv = CSV, pace: 'none' | 'real' = 'none') {
  const folder = temporaryFolder();
  const list = join(folder, 'door.csv');
  writeFileSync(list, csv);
  const wires = ['1', '2', '3'].map((n) => ({ from: `A${n}`, to: `B${n}`, ohms: 0.1 }));
  const scenario = { meter: { pace }, wiring: { wires, faults } };
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

describe('a continuity run whose process is killed', () => {
  it('goes on where it was told to be, in a record that is intact', async () => {
    const { args, folder, address } = await job([], CSV, 'real');
    const child = startReelohm(args('--cross', 'all', '--json'));
    const told: { point: number; raw: string }[] = [];
    for await (const line of createInterface({ input: child.stdout })) {
      const event = JSON.parse(line);
      if (event.type === 'continuity-point-read') told.push({ point: event.point, raw: event.raw });
      if (told.length === 5) signalGroup(child, 'SIGKILL');
    }
    expect(told.length).toBeGreaterThanOrEqual(5);
    const checked = await reelohm(['record', 'check', '--data', folder]);
    expect(checked.status, checked.err).toBe(0);
    const { status, out, err } = await reelohm(['continuity', '--go-on', '1', '--meter', address, '--data', folder]);
    expect(status, err).toBe(0);
    expect(out).toContain('15 points: 15 as expected');
    const [, file = ''] = /^Certificate: (.*)$/m.exec(out) ?? [];
    const { record } = verifyContinuity(readFileSync(file));
    const kept = record.run.readings.map(({ point, raw }) => ({ point, raw })).toArray();
    expect(kept.slice(0, told.length)).toEqual(told);
  });
});

describe('a continuity run with hands at a terminal', () => {
  it('asks for the cautions, for each check and for each point, and takes skip and void', async () => {
    const folder = temporaryFolder();
    const list = join(folder, 'door.csv');
    writeFileSync(list, 'from,to\nA1,B1\nA2,B2\n');
    const meter = await tinyMeter({});
    const child = startReelohm([
      'continuity',
      list,
      '--meter',
      meter.address,
      '--inspector',
      'Ines Okoro',
      '--cross',
      'none',
      '--data',
      folder,
    ]);
    let [said, out] = ['', ''];
    child.stderr.on('data', (chunk) => {
      said += chunk;
    });
    child.stdout.on('data', (chunk) => {
      out += chunk;
    });
    const answer = async (question: RegExp, text: string, ohms?: string) => {
      await expect.poll(() => question.test(said), { timeout: 20_000 }).toBe(true);
      said = '';
      if (ohms !== undefined) meter.ohms = ohms;
      child.stdin.write(`${text}\n`);
    };
    const OPEN = '+9.90000000E+37';
    const checks = async () => {
      await answer(/no voltage between the probes: put the probes on the two terminals/, '');
      await answer(/leads open: hold the probes apart/, '', OPEN);
      await answer(/leads shorted.*: press the probes/, '', '+1.0000E-01');
    };
    await answer(/Type yes to go on/, 'yes');
    await checks();
    await answer(/1 of 2, A1 – B1, expected closed: hold/, '', '+3.0000E-01');
    await answer(/2 of 2, A2 – B2/, 'v');
    await answer(/Why should reading 1 not count/, 'tip slipped');
    await answer(/1 of 2, A1 – B1/, 'x');
    await answer(/1 of 2, A1 – B1/, '', '+3.1000E-01');
    await answer(/2 of 2, A2 – B2/, 's');
    await answer(/Why is it skipped/, 'plug not at hand');
    await checks();
    const [status] = await once(child, 'exit');
    expect(status).toBe(1);
    expect(out).toContain('"x" is none of these.');
    expect(out).toMatch(/1 of 2, A1 – B1, expected closed: 210.* mΩ, as expected/);
    expect(out).toContain('not accepted: 2 points: 1 as expected, 0 not as expected, 0 cannot tell, 1 skipped');
    const [, file = ''] = /^Certificate: (.*)$/m.exec(out) ?? [];
    const text = readFileSync(file, 'utf8');
    expect(text).toContain('The accuracy of this meter was not entered');
    expect(text).not.toContain('Simulated bench');
  });
});
