import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openRecord } from '../../main/record/record.ts';
import { openStation } from '../../main/station/station.ts';
import { exampleLot } from '../exampleLot.ts';
import { checkBench, readyBench } from '../readyBench.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

/** A folder whose record holds one lot that is measured, and whose plan decides nothing but acceptance. */
async function measured(): Promise<string> {
  const folder = temporaryFolder();
  const station = openStation({
    folders: { data: folder, certificates: folder },
    version: 'test',
    record: openRecord(folder),
  });
  try {
    const { run } = await station.ask('receive-lot', { claim: exampleLot({ sampleSize: 3, accept: 2 }) });
    await readyBench(station, run);
    for (let reading = 0; reading < 3; reading++) await station.ask('take-reading', { run });
    await checkBench(station, run);
  } finally {
    await station.close();
  }
  return folder;
}

it('puts a lot on hold, lifts that, decides, corrects, certifies and tells it all without a window', async () => {
  const data = await measured();
  const of = (command: string, ...options: string[]) => reelohm([command, '1', '--data', data, ...options]);
  const by = ['--by', 'Ines Okoro'];
  const done = async (command: string, ...options: string[]) => {
    const { status, err, out } = await of(command, ...options);
    expect(status, `${command}: ${err}`).toBe(0);
    return out;
  };
  const refused = async (code: string, command: string, ...options: string[]) => {
    const { status, err } = await of(command, ...options);
    expect(status, `${command}: ${err}`).toBe(2);
    expect(err).toContain(code);
  };
  await refused('reason-missing', 'decide', ...by, '--disposition', 'on-hold');
  await done('decide', ...by, '--disposition', 'on-hold', '--reason', 'the buyer is asked');
  await refused('run-on-hold', 'decide', ...by, '--disposition', 'accepted');
  await done('lift-hold', ...by, '--reason', 'the buyer agreed');
  expect(await done('decide', ...by, '--disposition', 'accepted')).toContain('Run 1 is decided: accepted.');
  const first = join(data, 'first.csv');
  await done('certify', '--certificate', first);

  await refused('input-invalid', 'correct', ...by, '--reason', 'r', '--reel', 'R-7', '--supplier', 'Sample Supply');
  await refused(
    'approval-not-needed',
    'correct',
    ...by,
    '--reason',
    'r',
    '--reel',
    'R-7',
    '--approved-by',
    'R. Adeyemi',
  );
  await done('correct', ...by, '--reason', 'forgotten', '--reel', 'R-7');
  await done('correct', ...by, '--reason', 'bent leads', '--disposition', 'not-accepted');
  const second = join(data, 'second.csv');
  const certified = JSON.parse(await done('certify', '--certificate', second, '--json'));
  expect(certified).toMatchObject({ type: 'certificate', run: 1, file: second });
  const verified = await reelohm(['verify', first, second, '--json', '--data', data]);
  expect(verified.status, verified.out).toBe(0);
  expect(
    verified.out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line).disposition),
  ).toEqual(['accepted', 'not-accepted']);

  const told = await done('story');
  const inOrder = [
    /^2\d{3}-\d\d-\d\d \d\d:\d\d:\d\d [+-]\d\d:\d\d {2}Ines Okoro: Lot L-2093 of part TF-4K7-1/m,
    /The bench is good\./,
    /Readings 1 to 3 of pieces 1 to 3: /,
    /Ines Okoro: Put on hold: the buyer is asked\./,
    /Ines Okoro: The hold was lifted: the buyer agreed\./,
    /Ines Okoro: Accepted, as the plan says\./,
    /The certificate was written: .*first\.csv/,
    /The reel was corrected from nothing to “R-7”: forgotten\./,
    /It was: accepted, by Ines Okoro at \S+\. It is: not accepted: bent leads\./,
    /The certificate was written anew, after what was changed: .*second\.csv/,
  ];
  let rest = told;
  for (const pattern of inOrder) {
    const at = rest.search(pattern);
    expect(at, `${pattern} in\n${rest}`).toBeGreaterThanOrEqual(0);
    rest = rest.slice(at);
  }
  const lines = (await done('story', '--json'))
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  expect(lines[0]).toMatchObject({ type: 'story', run: 1, kind: 'lot-received', by: 'Ines Okoro', position: 1 });
  expect(lines).toHaveLength(told.trim().split('\n').length);
  expect((await reelohm(['story', '2', '--data', data])).err).toContain('run-unknown');
});

it('goes on by inspect where a hold was lifted, with the status of what the plan says', async () => {
  const data = temporaryFolder();
  const lot = join(data, 'lot.json');
  writeFileSync(lot, JSON.stringify(exampleLot({ sampleSize: 3, accept: 2 })));
  const inspected = await reelohm(['inspect', lot, '--meter', 'sim:7', '--data', data]);
  expect(inspected.status, inspected.err).toBe(0);
  const options = ['--data', data, '--by', 'Ines Okoro', '--reason', 'the buyer is asked'];
  expect((await reelohm(['correct', '1', '--disposition', 'on-hold', ...options])).status).toBe(0);
  const held = await reelohm(['inspect', '--go-on', '1', '--meter', 'sim:7', '--data', data]);
  expect(held.status).toBe(2);
  expect(held.err).toContain('run-on-hold');
  expect((await reelohm(['lift-hold', '1', ...options])).status).toBe(0);
  const goneOn = await reelohm(['inspect', '--go-on', '1', '--meter', 'sim:7', '--data', data]);
  expect(goneOn.status, goneOn.err).toBe(0);
});
