import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { News } from '../../../core/contract/contract.ts';
import { MANNER_NAMES } from '../../../instruments/bench/scenario.ts';
import oneCommand from '../../../instruments/dialects/one-command.json' with { type: 'json' };
import { exampleLot } from '../../exampleLot.ts';
import { openPtyPair, socatIsHere, startPtyBench } from '../../instruments/ptyPair.ts';
import { openedStation, problemOf } from '../../openedStation.ts';
import { checkBench, runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

/** A folder with these dialect files of the user's own. */
function folderWith(files: Record<string, string>): string {
  const folder = temporaryFolder();
  mkdirSync(join(folder, 'dialects'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, 'dialects', name), text);
  return folder;
}

const MINE = JSON.stringify({ ...oneCommand, name: 'mine', title: 'Ours in the corner' }, null, 2);

describe('dialects at a station', () => {
  it('are listed, the ones of the user too, and what is wrong with a file names its line', async () => {
    const broken = MINE.replace('"name": "mine"', '"name": "broken"').replace('"one"', '"three"');
    const station = openedStation(folderWith({ 'mine.json': MINE, 'broken.json': broken }));
    const { dialects, problems } = await station.ask('dialects', {});
    expect(dialects.find(({ name }) => name === 'mine')).toMatchObject({ title: 'Ours in the corner', own: true });
    expect(dialects.filter(({ own }) => !own).map(({ name }) => name)).toContain('scpi');
    const line = broken.split('\n').findIndex((text) => text.includes('"three"')) + 1;
    expect(problems).toMatchObject([{ code: 'dialect-invalid', what: expect.stringContaining(`line ${line}`) }]);
    expect(problems[0]?.what).toContain('broken.json');
  });

  it('of the user are spoken when an address names them, and a run says which it was', async () => {
    const station = openedStation(folderWith({ 'mine.json': MINE }));
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    expect(await problemOf(station.ask('connect-meter', { run, address: 'sim:5?dialect=yours' }))).toBe(
      'dialect-unknown',
    );
    await station.ask('connect-meter', { run, address: 'sim:5?dialect=mine' });
    await station.ask('confirm-bench', { run, by: 'Ines Okoro', cautions: ['read'] });
    await checkBench(station, run);
    await station.ask('take-reading', { run });
    expect(await runOf(station, run)).toMatchObject({ meter: { dialect: 'mine' }, tally: { counted: 1 } });
  });

  it.each(MANNER_NAMES.filter((name) => name !== 'plain'))('take a reading through all checks: %s', async (dialect) => {
    const station = openedStation();
    // A talker cannot be told its range.
    const claim = { ...exampleLot(), measurement: { range: dialect === 'talker' ? 'auto' : 'window' } } as const;
    const { run } = await station.ask('receive-lot', { claim });
    await station.ask('connect-meter', { run, address: `sim:5?dialect=${dialect}` });
    await station.ask('confirm-bench', { run, by: 'Ines Okoro', cautions: ['read'] });
    await checkBench(station, run, (check) => (check === 'ambient' ? { celsius: '23' } : {}));
    const { entry } = await station.ask('take-reading', { run });
    expect(entry.event).toMatchObject({ type: 'reading-taken', verdict: 'pass' });
    if (dialect === 'value-and-unit') expect(entry.event).toMatchObject({ said: expect.stringMatching(/OHM/) });
  });
});

describe.skipIf(!socatIsHere())('finding a meter at a station', () => {
  it('tells what it tries, gives the address with its settings, and can be stopped', async () => {
    const pair = await openPtyPair();
    onTestFinished(() => pair.stop());
    const station = openedStation();
    const tried: News[] = [];
    station.listen((news) => {
      if (news.kind === 'finding') tried.push(news);
    });
    const stopped = problemOf(station.ask('find-meter', { path: pair.near }));
    await expect.poll(() => tried.length).toBeGreaterThan(0);
    await station.ask('stop-finding', {});
    expect(await stopped).toBe('finding-stopped');

    const bench = await startPtyBench(pair, { seed: 4, meter: { pace: 'none' } });
    onTestFinished(() => bench.stop());
    const found = await station.ask('find-meter', { path: pair.near });
    expect(found.identity).toBe('Reelohm,Simulated bench,4,1.0');
    expect(found.address.startsWith(`${pair.near}?baud=9600`)).toBe(true);
    expect(tried.at(-1)).toMatchObject({ path: pair.near, trying: expect.stringContaining('baud=9600') });
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await station.ask('connect-meter', { run, address: found.address });
  });
});
