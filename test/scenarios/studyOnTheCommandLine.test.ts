import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { turnOf } from '../../core/study/order.ts';
import { houfBerman } from '../core/study/houfBerman.ts';
import { exampleLot } from '../exampleLot.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const CHOICE = { design: 'crossed', pieces: 3, operators: ['A', 'B'], repeats: 2, seed: 4 } as const;

/** The smallest study there is. */
const TWO_BY_TWO =
  'piece,operator,repeat,ohms\n1,A,1,2\n1,A,2,3\n1,B,1,2\n1,B,2,4\n2,A,1,5\n2,A,2,6\n2,B,1,5\n2,B,2,5\n';

describe('a study on the command line', () => {
  it('is measured turn by turn, closed as studied with status 0, and its certificate verifies', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'study.json');
    writeFileSync(file, JSON.stringify(exampleLot({ study: { ...CHOICE, operators: [...CHOICE.operators] } })));
    const { status, err } = await reelohm(['inspect', file, '--meter', 'sim:7', '--data', folder]);
    expect(status, err).toBe(0);
    const choice = {
      kind: 'study',
      sessions: 1,
      runs: 1,
      referenceOhms: null,
      referenceUncertaintyOhms: null,
    } as const;
    for (let turn = 1; turn <= 12; turn++) {
      const { piece, operator, repeat } = turnOf({ ...choice, ...CHOICE, operators: [...CHOICE.operators] }, turn);
      expect(err).toMatch(
        new RegExp(`^${turn}/12  piece ${piece}, operator ${operator}, repeat ${repeat}  4\\.\\d+ kΩ ±`, 'm'),
      );
    }
    expect(err).toMatch(/^Crossed study: 3 pieces, 2 operators, 2 repeats\.$/m);
    expect(err).toMatch(/^STUDIED: 12 readings$/m);
    const certificate = /^Certificate: (.+)$/m.exec(err)?.[1] ?? '';
    const verified = await reelohm(['verify', certificate]);
    expect(verified.status, verified.err).toBe(0);
    expect(verified.out).toMatch(/intact\. .*: studied, 12 readings \(simulated bench: practice\)/);
  });

  it('tells a machine the piece, operator and repeat of each reading, and the whole study', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'study.json');
    writeFileSync(file, JSON.stringify(exampleLot({ study: { ...CHOICE, operators: [...CHOICE.operators] } })));
    const { status, out, err } = await reelohm(['inspect', file, '--meter', 'sim:7', '--data', folder, '--json']);
    expect(status, err).toBe(0);
    const lines = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    const turns = lines.filter(({ type }) => type === 'reading-taken').map(({ turn }) => turn);
    expect(new Set(turns.map(({ piece, operator, repeat }) => `${piece} ${operator} ${repeat}`)).size).toBe(12);
    expect(lines.at(-2)).toMatchObject({ type: 'study', study: { design: 'crossed', repeats: 2 } });
    expect(lines.at(-1)).toMatchObject({ type: 'result', disposition: 'studied', counted: 12 });
  });

  it('is worked out from a file of readings, written, and verified', async () => {
    const folder = temporaryFolder();
    const [readings, result] = [join(folder, 'readings.csv'), join(folder, 'result.csv')];
    const rows = houfBerman.map(({ piece, operator, repeat, ohms }) => [piece, operator, repeat, ohms].join());
    writeFileSync(readings, `\uFEFFpiece,operator,repeat,ohms\r\n${rows.join('\r\n')}\r\n`);
    const written = ['--out', result, '--by', 'Ines Okoro', '--data', folder];
    const study = await reelohm(['study', readings, ...written, '--title', 'modules']);
    expect(study.status, study.err).toBe(0);
    // Houf and Berman 1988: the published components 48.29, 0.56, 0.73, 0.51 (Montgomery, Introduction to Statistical
    // Quality Control, from memory, recomputed) give F 162.270 and 7.2849 and a gauge of 3.6005 % of variance.
    expect(study.out).toMatch(/^piece +9 +3940 +437 +162 +< 0\.001$/m);
    expect(study.out).toMatch(/^operator +2 +39\.3 +19\.6 +7\.28 +0\.005$/m);
    expect(study.out).toMatch(/^gauge .* 3\.6 +19 +-$/m);
    expect(study.out).toContain(`Written: ${result}`);

    const verified = await reelohm(['verify', result, '--json']);
    expect(JSON.parse(verified.out)).toMatchObject({
      intact: true,
      kind: 'study',
      title: 'modules',
      by: 'Ines Okoro',
      readings: 90,
    });
    writeFileSync(result, readFileSync(result, 'utf8').replace('reading,1,', 'reading,2,'));
    const altered = await reelohm(['verify', result]);
    expect([altered.status, altered.err]).toEqual([1, expect.stringContaining('[study-broken]')]);
  });

  it.each<[string, string[], string, RegExp]>([
    ['a result nobody made', ['--out', 'never.csv'], TWO_BY_TWO, /--by.*\[input-invalid\]/],
    ['no readings', [], '', /\[study-file-unreadable\]/],
    [
      'one operator in a crossed study',
      [],
      'piece,operator,repeat,ohms\n1,A,1,2\n1,A,2,3\n2,A,1,2\n2,A,2,3\n',
      /\[study-one-operator\]/,
    ],
  ])('says in one line what is wrong with %s, with status 2', async (_what, more, csv, expected) => {
    const file = join(temporaryFolder(), 'readings.csv');
    writeFileSync(file, csv);
    const { status, out, err } = await reelohm(['study', file, ...more]);
    expect([status, out, err.trim().split('\n').length]).toEqual([2, '', 1]);
    expect(err).toMatch(expected);
  });
});
