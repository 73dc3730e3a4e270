import { once } from 'node:events';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { LotClaimInput } from '../../core/inspection/lotClaim.ts';
import { openRecord } from '../../main/record/record.ts';
import { openStation } from '../../main/station/station.ts';
import { exampleLot } from '../exampleLot.ts';
import { lineFrom, reelohm, startNode, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { tinyMeter } from '../tinyMeter.ts';

/** Calls inspect with this lot and expects one line that says so, status 2, and a record that still opens. */
async function refused(lot: unknown, meter = 'sim:7', more: string[] = []): Promise<string> {
  const folder = temporaryFolder();
  const file = join(folder, 'lot.json');
  writeFileSync(file, typeof lot === 'string' ? lot : JSON.stringify(lot));
  const { status, out, err } = await reelohm(['inspect', file, '--meter', meter, '--data', folder, '--json', ...more]);
  expect(status, err).toBe(2);
  expect(out).not.toMatch(/"lot-decided"/);
  const said = err
    .trim()
    .split('\n')
    .filter((line) => !line.startsWith('Run 1 is kept'));
  expect(said).toHaveLength(1);
  openRecord(folder).close();
  return said[0] ?? '';
}

const with_ = (change: (lot: LotClaimInput) => unknown): unknown => change(exampleLot());

describe('inspect says in one line what is wrong with', () => {
  it.each<[string, unknown, RegExp]>([
    [
      'a lot of no pieces',
      with_((lot) => ({ ...lot, lot: { ...lot.lot, size: 0 } })),
      /lot of 0 pieces.*\[lot-empty\]/,
    ],
    [
      'half a piece',
      with_((lot) => ({ ...lot, lot: { ...lot.lot, size: 2.5 } })),
      /"lot.size" expected a whole number of pieces/,
    ],
    [
      'a sample larger than the lot',
      with_((lot) => ({ ...lot, plan: { sampleSize: 6000, accept: 0 } })),
      /6000 pieces is larger than the lot of 5000/,
    ],
    [
      'limits upside down',
      with_((lot) => ({ ...lot, part: { ...lot.part, nominal: '', tolerance: '5k to 4k' } })),
      /lower limit 5000 Ω is not below its upper limit 4000 Ω/,
    ],
    [
      'a percentage of 0 Ω',
      with_((lot) => ({ ...lot, part: { ...lot.part, nominal: '0' } })),
      /percentage of a nominal value of 0 Ω/,
    ],
    [
      'a field it does not know',
      with_((lot) => ({ ...lot, lot: { ...lot.lot, colour: 'red' } })),
      /"lot.colour" is not a field/,
    ],
    ['a missing field', with_(({ inspector, ...lot }) => lot), /lot\.json: "inspector" is missing, expected text/],
    ['text that is not JSON', '{ "inspector": ', /lot\.json: not JSON/],
  ])('%s', async (_what, lot, expected) => {
    expect(await refused(lot)).toMatch(expected);
  });

  it('no meter at the address', async () => {
    expect(await refused(exampleLot(), 'tcp://127.0.0.1:1')).toMatch(
      /127\.0\.0\.1:1.*nothing listens.*\[meter-unreachable\]/,
    );
    expect(await refused(exampleLot(), '/dev/no-such-port')).toMatch(
      /\/dev\/no-such-port: there is no such port.*\[meter-unreachable\]/,
    );
    expect(await refused(exampleLot(), 'nowhere')).toMatch(/"nowhere" is not a meter's address/);
  });

  it('a meter that answers with an error', async () => {
    const address = await meterThatRefuses();
    expect(await refused(exampleLot(), address, ['--confirm-cautions'])).toMatch(
      /refused.*-222,"Data out of range".*\[meter-error\]/,
    );
  });

  it('a certificate that exists already, leaving it as it is', async () => {
    const folder = temporaryFolder();
    const taken = join(folder, 'taken.csv');
    writeFileSync(taken, 'mine');
    expect(await refused(exampleLot(), 'sim:7', ['--certificate', taken])).toMatch(/taken\.csv exists already/);
    expect(readFileSync(taken, 'utf8')).toBe('mine');
    expect(readdirSync(folder)).toEqual(['taken.csv']);
  });

  it('a second station on the same record', async () => {
    const folder = temporaryFolder();
    const first = startReelohm(['open', '--browser', '--no-launch', '--data', folder]);
    await lineFrom(first.stdout, /Reelohm is at/);
    const file = join(folder, 'lot.json');
    writeFileSync(file, JSON.stringify(exampleLot()));
    const { status, err } = await reelohm(['inspect', file, '--meter', 'sim:7', '--data', folder]);
    expect(status).toBe(2);
    expect(err).toMatch(/^Another station is using the record .*\[record-in-use\]\n$/);
  });

  it('a lot on hold, which only a person may take off hold', async () => {
    const folder = temporaryFolder();
    const station = openStation({ folders: { data: folder, certificates: join(folder, 'c') }, version: 'test' });
    const { run } = await station.ask('receive-lot', { claim: exampleLot() });
    await station.ask('decide-lot', { run, disposition: 'on-hold', by: 'A. Lead', reason: 'bodies cracked' });
    await station.close();
    const { status, err } = await reelohm(['inspect', '--go-on', '1', '--meter', 'sim:7', '--data', folder]);
    expect([status, err]).toEqual([2, expect.stringContaining('[run-on-hold]')]);
  });

  it('a program that cannot be loaded, with a status that is no verdict', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'main'));
    mkdirSync(join(folder, 'dist/main'), { recursive: true });
    writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
    copyFileSync(join(import.meta.dirname, '../../main/start.js'), join(folder, 'main/start.js'));
    writeFileSync(join(folder, 'dist/main/command.js'), 'this is no program');
    const child = startNode([join(folder, 'main/start.js'), 'inspect']);
    await lineFrom(child.stderr, /^The program could not be started: /);
    const [status] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
    expect(status).toBe(2);
  });

  it('a command that is misspelt', async () => {
    const { status, err } = await reelohm(['inspct']);
    expect(status).toBe(2);
    expect(err).toMatch(/unknown command 'inspct'/);
  });

  it('a real meter when nobody confirms the cautions or no pieces come', async () => {
    const lot = exampleLot();
    const folder = temporaryFolder();
    const file = join(folder, 'lot.json');
    writeFileSync(file, JSON.stringify(lot));
    const open = '+9.9E+37';
    // Overload on a fixed range is read once more; then the leads are shorted.
    const leads = [open, open, '+1.0E-01', '+1.0E-01', '+1.0E-01'];
    const piece = '+4.7013E+03';
    const onProbes = [...leads, piece, piece, ...leads, ...Array<string>(19).fill(piece), ...leads];
    let isResistance = true;
    const meter = await tinyMeter({}, (unit) => {
      if (unit.startsWith('CONF:')) isResistance = unit === 'CONF:RES';
      return unit === 'READ?' && isResistance ? onProbes.shift() : undefined;
    });
    const answers = ['--without-reference', 'away', '--ambient', '23', '--override-calibration', 'a test'];
    const address = [meter.address, '--data', folder, ...answers];
    const no = await reelohm(['inspect', file, '--meter', ...address], { input: 'no\n' });
    expect([no.status, no.err]).toEqual([2, expect.stringContaining('[cautions-unconfirmed]')]);
    // Open leads, shorted leads, no voltage, then two pieces.
    const few = await reelohm(['inspect', '--go-on', '1', '--meter', ...address], { input: 'yes\n\n\n\n\n\n' });
    expect([few.status, few.err]).toEqual([2, expect.stringContaining('[inspection-stopped]')]);
    expect(few.err).toMatch(/2\/20 {2}piece 2 {2}4\.7012 kΩ {2}pass/);
    // Eighteen more pieces, one of them voided and measured again.
    const input = `yes\n\n\n\n${'\n'.repeat(10)}v\nslipped\n${'\n'.repeat(9)}\n\n\n`;
    const rest = await reelohm(['inspect', '--go-on', '1', '--meter', ...address], { input });
    expect(rest.err).toContain('Check 2 of 7: hold the probes apart');
    expect(rest.err).toContain('ACCEPTED: 20 measured, 0 nonconforming');
    expect(rest.status).toBe(0);
  });
});

async function meterThatRefuses(): Promise<string> {
  return (await tinyMeter({ 'SYST:ERR?': '-222,"Data out of range"' })).address;
}
