import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawn } from '../../core/sampling/positions.ts';
import { answerAtProbes } from '../../main/command/answerAtProbes.ts';
import { nextWords, positionChoices } from '../../main/command/positionWords.ts';
import { readyRun, walk, withReadings } from '../core/inspection/walk.ts';
import { exampleLot } from '../exampleLot.ts';
import { inspectedLot } from '../inspectedLot.ts';
import { reelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';
import { tinyMeter } from '../tinyMeter.ts';

const CLAIM = { ...exampleLot({ sampleSize: 6, accept: 5 }), positions: { kind: 'random', seed: 12 } } as const;
const DRAWN = [...drawn(12, 5000, 6)];

describe('inspect with positions drawn at random', () => {
  it('takes its pieces there, says so as JSON, and its certificate verifies until a seed is forged', async () => {
    const { status, out, err, certificate } = await inspectedLot(CLAIM, ['--json']);
    expect(status, err).toBe(0);
    const said = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(said[0]).toMatchObject({ type: 'run', positions: { kind: 'random', seed: 12 } });
    const taken = said.filter(({ type }) => type === 'reading-taken');
    expect(taken.map(({ position }) => position)).toEqual(DRAWN);
    const verified = await reelohm(['verify', certificate]);
    expect(verified.status, verified.err).toBe(0);
    expect(verified.out).toContain('each position anew from seed 12');
    expect(readFileSync(certificate, 'utf8')).toMatch(/^positions,seed,/m);
  });

  it('says to a person where pieces come from, and draws a seed where the file has none', async () => {
    const { err } = await inspectedLot({ ...CLAIM, positions: { kind: 'random' } });
    expect(err).toMatch(/^Pieces: at positions drawn at random, seed \d+$/m);
    expect(err).toMatch(/^1\/6 {2}piece 1 at position [\d\u00a0]+ {2}4\.\d+ kΩ/m);
  });

  it('refuses a file whose positions are none, and names them', async () => {
    const { status, err } = await inspectedLot({ ...CLAIM, positions: { kind: 'random', seed: -1 } });
    expect(status).toBe(2);
    expect(err).toContain('positions');
  });
});

describe('at the terminal', () => {
  it('the next position is said, and that of a piece which is measured again', () => {
    const run = readyRun({ positions: { kind: 'spread' }, lot: { number: 'L', size: 5000 } });
    expect(nextWords(run)).toBe('Next: position 1 (piece 1)');
    const third = withReadings(run, '4700.0', '4701.0');
    expect(nextWords(third)).toBe('Next: position 2\u00a0500 (piece 3)');
    const again = walk(third, { type: 'void-reading', reading: 2, by: 'B', reason: 'r' });
    expect(nextWords(again)).toBe('Next: position 2 (piece 2)');
    expect(nextWords(readyRun())).toBe('Piece 1');
  });

  it('another one is typed after p, with or without spaces, p alone takes it back, and nothing else counts a piece', () => {
    const position = (text: string) => ({ kind: 'position', text });
    expect(['p 1204', 'p1204', ' P 1\u00a0204 ', 'p', 'p '].map(answerAtProbes)).toEqual(
      ['1204', '1204', '1204', '', ''].map(position),
    );
    expect(['', ' ', 'v', 'V', 'q', null].map((answer) => answerAtProbes(answer).kind)).toEqual([
      'placed',
      'placed',
      'void',
      'void',
      'stop',
      'stop',
    ]);
    for (const said of ['1204', 'p x', 'y', 'vv', 'p -3', '.'])
      expect(answerAtProbes(said)).toEqual({ kind: 'none', said });
  });

  it('taking it back is offered where another one is said', () => {
    const run = readyRun({ positions: { kind: 'spread' } });
    expect(positionChoices(run)).toBe('p and a number: taken there instead, ');
    const said = walk(run, { type: 'say-position', position: 7 });
    expect(positionChoices(said)).toContain('p alone: where it was asked for after all');
    expect(positionChoices(readyRun())).toBe('');
  });

  it('a number without its p takes no reading, and the piece counts as from where it is said', {
    timeout: 60_000,
  }, async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'lot.json');
    writeFileSync(file, JSON.stringify({ ...exampleLot({ sampleSize: 2, accept: 1 }), positions: CLAIM.positions }));
    const [first = 0, second = 0] = drawn(12, 5000, 2);
    const open = '+9.9E+37';
    // Overload on a fixed range is read once more; then the leads are shorted.
    const leads = [open, open, '+1.0E-01', '+1.0E-01', '+1.0E-01'];
    const onProbes = [...leads, '+4.7013E+03', '+4.7014E+03', ...leads];
    let isResistance = true;
    const meter = await tinyMeter({}, (unit) => {
      if (unit.startsWith('CONF:')) isResistance = unit === 'CONF:RES';
      return unit === 'READ?' && isResistance ? onProbes.shift() : undefined;
    });
    const options = ['--without-reference', 'away', '--ambient', '23', '--override-calibration', 'a test'];
    // Cautions, open leads, shorted leads, no voltage; two pieces; the closing round.
    const answers = ['yes', '', '', '', '1300', `p ${first + 1}`, '', `p ${second - 1}`, 'p', '', '', '', ''];
    const { status, err } = await reelohm(['inspect', file, '--meter', meter.address, '--data', folder, ...options], {
      input: answers.map((answer) => `${answer}\n`).join(''),
    });
    expect(status, err).toBe(0);
    expect(err).toContain('"1300" is none of these answers; nothing was measured.');
    const said = err.replaceAll('\u00a0', '');
    expect(said).toContain(`1/2  piece 1 at position ${first + 1}`);
    expect(said).toContain(`2/2  piece 2 at position ${second}`);
  });
});
