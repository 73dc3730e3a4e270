import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawn } from '../../core/sampling/positions.ts';
import { nextWords, positionIn } from '../../main/command/positionWords.ts';
import { readyRun, walk, withReadings } from '../core/inspection/walk.ts';
import { exampleLot } from '../exampleLot.ts';
import { inspectedLot } from '../inspectedLot.ts';
import { reelohm } from '../reelohm.ts';

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

  it('another one is typed after p, with or without spaces; anything else is none', () => {
    expect(['p 1204', 'p1204', ' p 1 204 ', 'p'].map(positionIn)).toEqual(['1204', '1204', '1204', '']);
    expect(['', 'v', 'q', '1204'].map(positionIn)).toEqual([null, null, null, null]);
  });
});
