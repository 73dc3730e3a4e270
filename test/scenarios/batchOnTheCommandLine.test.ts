import { once } from 'node:events';
import { appendFileSync, existsSync, mkdirSync, readFileSync, renameSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { BatchLine } from '../../main/command/batch.ts';
import { exampleLot } from '../exampleLot.ts';
import { lineFrom, reelohm, signalGroup, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const linesOf = (text: string): BatchLine[] =>
  text
    .trim()
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line));

/** A folder of descriptions by their names, and where a batch keeps what it makes. */
function folders(descriptions: Record<string, unknown>): { lots: string; args: string[]; results: string } {
  const data = temporaryFolder();
  const lots = join(data, 'lots');
  mkdirSync(lots);
  for (const [name, lot] of Object.entries(descriptions)) writeFileSync(join(lots, name), JSON.stringify(lot));
  const results = join(data, 'results.jsonl');
  return { lots, results, args: ['--meter', 'sim:5', '--data', join(data, 'data'), '--results', results] };
}

const lot = (number: string, plan = { sampleSize: 3, accept: 2 }) => {
  const claim = exampleLot(plan);
  return { ...claim, lot: { ...claim.lot, number } };
};

describe('a batch of lots', () => {
  it('inspects each in the order of its name, says a line for each, and goes on after one it cannot read', async () => {
    const wide = {
      ...lot('L-2'),
      part: { ...exampleLot().part, tolerance: '0.0001 %' },
      plan: { sampleSize: 3, accept: 0 },
    };
    const { lots, results, args } = folders({ 'c.json': { lot: 1 }, 'a.json': lot('L-1'), 'b.json': wide });
    writeFileSync(join(lots, 'notes.txt'), 'no lot');
    const { status, out, err } = await reelohm(['batch', lots, ...args]);
    const lines = linesOf(out);
    expect(
      lines.map(({ file }) => file.at(-6)),
      err,
    ).toEqual(['a', 'b', 'c']);
    expect(lines[0]).toMatchObject({ status: 0, lot: 'L-1', disposition: 'accepted', counted: 3, run: 1 });
    expect(lines[1]?.status).not.toBe(0);
    expect(lines[2]).toMatchObject({ status: 2, problem: { code: 'input-invalid' } });
    expect(lines[2]?.run).toBeUndefined();
    expect(status).toBe(2);
    expect(linesOf(readFileSync(results, 'utf8'))).toEqual(lines);
    const verified = await reelohm(['verify', lines[0]?.certificate?.file ?? '']);
    expect(verified.status, verified.err).toBe(0);
  });

  it('does not do again what its results say is done, but what was changed since, and what could not be done', async () => {
    const { lots, results, args } = folders({ 'a.json': lot('L-1'), 'b.json': { lot: 1 } });
    expect((await reelohm(['batch', lots, ...args])).status).toBe(2);
    // As a power cut leaves a line that was being written.
    appendFileSync(results, '{"file":"');
    writeFileSync(join(lots, 'c.json'), JSON.stringify(lot('L-3')));
    const again = await reelohm(['batch', lots, ...args]);
    expect(linesOf(again.out).map(({ file }) => file.at(-6))).toEqual(['b', 'c']);
    writeFileSync(join(lots, 'b.json'), JSON.stringify(lot('L-2')));
    writeFileSync(join(lots, 'a.json'), JSON.stringify(lot('L-1a')));
    const changed = await reelohm(['batch', lots, ...args]);
    expect(linesOf(changed.out).map(({ lot: number }) => number)).toEqual(['L-1a', 'L-2']);
    expect(changed.status).toBe(0);
  });

  it('loses no line behind one that was cut short, and takes no folder for a description', async () => {
    const { lots, results, args } = folders({ 'a.json': lot('L-1') });
    mkdirSync(join(lots, 'old.json'));
    writeFileSync(results, '{"file":"');
    const { status, out, err } = await reelohm(['batch', lots, ...args]);
    expect(status, err).toBe(0);
    expect(linesOf(out)).toHaveLength(1);
    expect(readFileSync(results, 'utf8')).toBe(`{"file":"\n${out}`);
    expect((await reelohm(['batch', lots, ...args])).out).toBe('');
  });

  it('watches a folder until it is stopped, and takes no file that is still being written', async () => {
    const { lots, args } = folders({ 'a.json': lot('L-1') });
    const child = startReelohm(['batch', lots, '--watch', ...args]);
    child.stderr.resume();
    const first = await lineFrom(child.stdout, /L-1/);
    expect(JSON.parse(first.input)).toMatchObject({ disposition: 'accepted' });
    const text = JSON.stringify(lot('L-2'));
    writeFileSync(join(lots, 'b.json'), text.slice(0, 40));
    await new Promise((resolve) => setTimeout(resolve, 300));
    writeFileSync(join(lots, 'b.json'), text);
    const second = await lineFrom(child.stdout, /"lot"/);
    expect(JSON.parse(second.input)).toMatchObject({ lot: 'L-2', disposition: 'accepted' });
    // As a machine whose clock runs an hour ahead leaves it, moved in as a whole.
    const [made, moved] = [join(lots, 'c.part'), join(lots, 'c.json')];
    writeFileSync(made, JSON.stringify(lot('L-3')));
    const ahead = new Date(Date.now() + 3_600_000);
    utimesSync(made, ahead, ahead);
    renameSync(made, moved);
    const third = await lineFrom(child.stdout, /"lot"/);
    expect(JSON.parse(third.input)).toMatchObject({ lot: 'L-3', disposition: 'accepted' });
    signalGroup(child, 'SIGINT');
    const [status] = await once(child, 'exit');
    expect(status).toBe(0);
  });

  it('says what is wrong with what it is given, with status 2', async () => {
    const { lots, args } = folders({});
    const missing = await reelohm(['batch', join(lots, 'none'), ...args]);
    expect(missing).toMatchObject({ status: 2, out: '' });
    expect(missing.err).toContain('none');
    expect(existsSync(lots)).toBe(true);
    expect((await reelohm(['batch', lots, ...args])).status).toBe(0);
  });
});
