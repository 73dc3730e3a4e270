import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

/** The bridge of Lessons In Electric Circuits I, chapter 10: 102/7 Ω between A and D. */
const BRIDGE = 'R1 A B 12 1%\nR2 A C 18 1%\nR3 B C 6 1%\nR4 B D 18 1%\nR5 C D 12 1%\nbetween A D\n';

function fileOf(text: string): string {
  const file = join(temporaryFolder(), 'network.txt');
  writeFileSync(file, text);
  return file;
}

describe('a network on the command line', () => {
  it('is worked out for people: what it reads, each fault, each resistor in circuit', async () => {
    const { status, out } = await reelohm(['network', fileOf(BRIDGE)]);
    expect(status).toBe(0);
    expect(out).toContain('Between A and D: 14.5714 Ω');
    expect(out).toContain('Worst case 14.4257 Ω to 14.7171 Ω');
    expect(out).toMatch(/^R3 {2}short /m);
    expect(out).toMatch(/^R1 .*lift its end at A$/m);
  });

  it('is worked out for programs, open being a word', async () => {
    const { status, out } = await reelohm(['network', fileOf('1k 1% + 2k 1%'), '--measured', 'open', '--json']);
    expect(status).toBe(1);
    const said = JSON.parse(out);
    expect(said).toMatchObject({
      type: 'network',
      terminals: ['A', 'B'],
      expected: { nominal: expect.closeTo(3000, 9) },
    });
    expect(said.explanations).toMatchObject([
      { what: 'open', name: 'R1', ohms: 'open' },
      { what: 'open', name: 'R2', ohms: 'open' },
    ]);
  });

  it('says what explains a reading, and by its status whether a good one reads so', async () => {
    const file = fileOf(BRIDGE);
    const good = await reelohm(['network', file, '--measured', '14.6']);
    expect([good.status, good.out]).toEqual([0, expect.stringContaining('- Nothing is wrong: ')]);
    const odd = await reelohm(['network', file, '--between', 'B', 'C', '--measured', '0']);
    expect([odd.status, odd.out]).toEqual([1, expect.stringContaining('- R3 short: ')]);
    const none = await reelohm(['network', file, '--measured', '9M']);
    expect([none.status, none.out]).toEqual([1, expect.stringContaining('No single fault explains this reading')]);
  });

  it.each([
    ['a line that is none', 'R1 a b 1k\nR2 b', [], '[network-unreadable]'],
    ['a node that is not there', '10k', ['--between', 'A', 'Z'], '[network-node-unknown]'],
    ['one node', '10k', ['--between', 'A'], '[input-invalid]'],
    ['a reading that is none', '10k', ['--measured', 'x'], '[resistance-unreadable]'],
  ])('refuses %s', async (_, text, more, code) => {
    const { status, err } = await reelohm(['network', fileOf(text), ...more]);
    expect([status, err]).toEqual([2, expect.stringContaining(code)]);
  });
});
