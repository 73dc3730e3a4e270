import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { exampleLot } from '../exampleLot.ts';
import { inspectedLot } from '../inspectedLot.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const LIMIT = ['--limit', '0.25 % + 0.05 ohm', '--treatment', 'heat'];

function files(before: string, after: string): [folder: string, before: string, after: string] {
  const folder = temporaryFolder();
  const [first, last] = [join(folder, 'before.csv'), join(folder, 'after.csv')];
  writeFileSync(first, `piece,ohms\n${before}`);
  writeFileSync(last, `piece,ohms\n${after}`);
  return [folder, first, last];
}

describe('stress', () => {
  // 0.25 % of 1000 Ω + 0.05 Ω is 2.55 Ω by hand; the limit itself is allowed (IEC 60115-1, from memory).
  it.each([
    ['all within', '1,1000\n2,1000\n', '2,1002.55\n1,997.45\n', 0, /changed by no more than ±\(0.25 % \+ 0.05 Ω\)/],
    [
      'one beyond',
      '1,1000\n2,1000\n',
      '1,1000\n2,1002.56\n',
      1,
      /^2 +1000 +1002\.56 +2\.56 +0\.25600 +±2\.55 +BEYOND$/m,
    ],
    ['one gone, the others within', '1,1000\n2,1000\n', '1,1000\n', 2, /Not measured after the treatment: piece 2/],
  ])('ends with the status of %s', async (_what, before, after, status, said) => {
    const [, first, last] = files(before, after);
    const found = await reelohm(['stress', first, last, ...LIMIT]);
    expect(found.status, found.err).toBe(status);
    expect(found.out).toMatch(said);
  });

  it('writes a result that verifies until a digit of it is changed', async () => {
    const [folder, first, last] = files('1,1000\n', '1,1001\n');
    const out = join(folder, 'result.csv');
    const found = await reelohm([
      'stress',
      first,
      last,
      ...LIMIT,
      '--out',
      out,
      '--by',
      'Ines Okoro',
      '--json',
      '--data',
      folder,
    ]);
    expect(found.status, found.err).toBe(0);
    expect(JSON.parse(found.out)).toMatchObject({ type: 'stress', result: { holds: true }, written: { file: out } });
    const verified = await reelohm(['verify', out, '--data', folder]);
    expect([verified.status, verified.out]).toEqual([0, expect.stringMatching(/intact\. Stress test by Ines Okoro: /)]);
    expect(verified.out).toContain('Signed by the key of this station');
    writeFileSync(out, readFileSync(out, 'utf8').replace('1001', '1000'));
    expect((await reelohm(['verify', out])).status).toBe(1);
  });

  it.each([
    ['a limit without unit', ['--limit', '0.25', '--treatment', 'heat'], /\[stress-limit-unreadable\]/],
    ['a result nobody made', [...LIMIT, '--out', 'never.csv'], /--by.*\[input-invalid\]/],
  ])('says in one line what is wrong with %s', async (_what, more, expected) => {
    const [, first, last] = files('1,1000\n', '1,1001\n');
    const { status, out, err } = await reelohm(['stress', first, last, ...more]);
    expect([status, out, err.trim().split('\n').length]).toEqual([2, '', 1]);
    expect(err).toMatch(expected);
  });

  it('says that a file is not text in UTF-8', async () => {
    const [, first, last] = files('1,1000\n', '1,1001\n');
    writeFileSync(last, Buffer.from('piece,ohms\nµ,1\n', 'latin1'));
    const { status, err } = await reelohm(['stress', first, last, ...LIMIT]);
    expect([status, err]).toEqual([2, expect.stringMatching(/after\.csv.*UTF-8.*\[file-unreadable\]/)]);
  });
});

describe('figures', () => {
  it('of a CSV file: each with its source', async () => {
    const file = join(temporaryFolder(), 'readings.csv');
    // NIST Statistical Reference Datasets, NumAcc2: 1.2, then 1.1 and 1.3 by turns, 1001 values; certified mean 1.2, s 0.1.
    const values = ['1.2', ...Array.from({ length: 1000 }, (_, index) => (index % 2 === 0 ? '1.1' : '1.3'))];
    writeFileSync(
      file,
      `place,ohms\r\n${values.map((value, index) => `${index},${value}`).join('\r\n')}\r\n${values.length},open\r\n`,
    );
    const { status, out, err } = await reelohm(['figures', file, '--nominal', '1.2', '--tolerance', '0.15 ohm']);
    expect(status, err).toBe(0);
    expect(out).toMatch(/^Window: 1\.05 to 1\.35 Ω$/m);
    expect(out).toMatch(/^Without a value, and left out: 1$/m);
    expect(out).toMatch(/^readings +1001$/m);
    expect(out).toMatch(/^mean +1\.2 Ω/m);
    expect(out).toMatch(/^standard deviation s +0\.1 Ω/m);
    expect(out).toMatch(/^outside, counted +0, 0 % .* Clopper-Pearson/m);
    // Two values only: whatever takes the lot to be normal is not given.
    expect(out).toMatch(/^Cp, Cpk, Pp, Ppk +not given: see the shape$/m);
    expect(out).not.toMatch(/NaN|Infinity|undefined|null/);
  });

  it.each([
    ['no piece', ''],
    ['one piece', '4700\n'],
    ['equal pieces', '4700\n4700\n4700\n4700\n'],
  ])('of %s: words where there is no figure', async (_what, rows) => {
    const file = join(temporaryFolder(), 'readings.csv');
    writeFileSync(file, `ohms\n${rows}`);
    const { status, out, err } = await reelohm(['figures', file, '--nominal', '4k7', '--tolerance', '1 %']);
    expect(status, err).toBe(0);
    expect(out).not.toMatch(/NaN|Infinity|undefined|null/);
    expect(out).toMatch(/^Shape: .{20}/m);
  });

  it('of a nominal value alone: what is missing', async () => {
    const file = join(temporaryFolder(), 'readings.csv');
    writeFileSync(file, 'ohms\n4700\n');
    const { status, err } = await reelohm(['figures', file, '--nominal', '4k7']);
    expect(status).toBe(2);
    expect(err).toContain('no tolerance');
  });

  it('of a certificate, once it is verified, with its own window', async () => {
    const { certificate, ...inspected } = await inspectedLot(exampleLot());
    expect(inspected.status, inspected.err).toBe(0);
    const { status, out, err } = await reelohm(['figures', certificate, '--json']);
    expect(status, err).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      type: 'figures',
      window: { lower: '4653', upper: '4747' },
      analysis: { summary: { n: 20 } },
    });
    expect((await reelohm(['figures', certificate, '--nominal', '4k7'])).err).toMatch(
      /has its own window.*\[input-invalid\]/,
    );
    writeFileSync(certificate, readFileSync(certificate, 'utf8').replace(',pass,', ',open,'));
    expect((await reelohm(['figures', certificate])).err).toMatch(/\[certificate-broken\]/);
  });

  it.each([
    ['without the column', 'value\n1\n', /there is no column "ohms"/],
    ['with text in it', 'ohms\n4k7\n', /row 2: "4k7" is not a number of ohms/],
    ['of unequal rows', 'ohms\n1\n1,2\n', /no CSV of equal rows/],
  ])('of a file %s: one line, status 2', async (_what, text, expected) => {
    const file = join(temporaryFolder(), 'readings.csv');
    writeFileSync(file, text);
    const { status, err } = await reelohm(['figures', file]);
    expect([status, err.trim().split('\n').length]).toEqual([2, 1]);
    expect(err).toMatch(expected);
  });
});
