import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { problem } from '../../../core/problem/problem.ts';
import { Dice } from '../../core/capture/dice.ts';
import { problemOf } from '../../openedStation.ts';
import { captureAtScript, type Script } from './captureAtScript.ts';
import { atQuickBench } from './capturing.ts';

const ABOVE = 47_010;

describe('a piece above the fixed range', () => {
  it('that slips after it counted does not count again: on the fixed range it would look lifted', async () => {
    const slips: Script = [0, 1, 2, 3].flatMap((slip) => [
      [9000 + slip * 3000, null],
      [9000 + slip * 3000 + 140, ABOVE],
    ]);
    const { play, counted } = await captureAtScript(
      [[0, null], [1000, ABOVE], ...slips, [30_000, null], [34_000, null]],
      60,
    );
    await play();
    expect(counted).toEqual([String(ABOVE)]);
  });

  it('is released when it is lifted, and the next one counts, above the range or on it', async () => {
    const { play, counted } = await captureAtScript([
      [0, null],
      [1000, ABOVE],
      [9000, null],
      [12_000, 4700],
      [14_000, null],
      [16_000, ABOVE + 300],
      [26_000, null],
      [30_000, null],
    ]);
    await play();
    expect(counted).toEqual([String(ABOVE), '4700', String(ABOVE + 300)]);
  });

  it('counts at a meter that takes 0.9 s to find its range, and so does an open piece', async () => {
    const { session, play, counted, whenTold } = await captureAtScript(
      [
        [0, null],
        [1000, ABOVE],
        [20_000, null],
        [60_000, null],
      ],
      900,
    );
    let released = false;
    whenTold(({ outcome, run }) => {
      if (outcome === 'released' && counted.length === 1 && !released) {
        released = true;
        session.sayOpen(run);
      }
    });
    await play();
    expect(counted).toEqual([String(ABOVE), '+9.9E+37']);
  });
});

describe('a piece at the very end of the fixed range', () => {
  it.each([1, 2, 3, 4, 5])('is now and then above it, and counts once all the same (seed %i)', async (seed) => {
    const dice = new Dice(seed);
    const atEnd = () => Math.round((12_000 + dice.normal(0.2)) * 100) / 100;
    const { play, counted } = await captureAtScript([
      [0, null],
      [1000, atEnd],
      [40_000, null],
      [44_000, null],
    ]);
    await play();
    expect(counted).toHaveLength(1);
  });
});

describe('what may be the piece before', () => {
  it('is told and not recorded: a slip of more than the release; put on again after half a second it is the next one', async () => {
    const { play, counted, outcomes, troubles } = await captureAtScript([
      [0, null],
      [1000, 4700],
      [2000, null],
      [2240, 4700],
      [3000, null],
      [3600, 4700],
      [4500, null],
      [5000, null],
    ]);
    await play();
    expect(counted).toEqual(['4700', '4700']);
    const told = ['captured', 'released', 'contact'];
    expect(outcomes()).toEqual(['contact', ...told, 'trouble', 'released', 'contact', 'captured', 'released']);
    expect(troubles()[0]).toContain('may be that piece');
  });

  it('is none where the reading of the one before was refused', async () => {
    const { play, counted, troubles, refuseNext } = await captureAtScript([
      [0, null],
      [1000, 4700],
      [2000, null],
      [2240, 4700],
      [3000, null],
      [3500, null],
    ]);
    refuseNext(problem('reading-too-coarse', '1 Ω', '0.1 Ω'));
    await play();
    expect(counted).toEqual(['4700']);
    expect(troubles()).toHaveLength(1);
  });
});

describe('what is under way', () => {
  const STEADY: Script = [
    [0, null],
    [1000, 4700],
    [9000, null],
  ];

  it('does not count once somebody has asked for the end', async () => {
    let readings = 0;
    const untilThird = () => {
      // While the reading is taken that would count.
      if (++readings === 3) void asked.session.stop();
      return 4700;
    };
    const asked = await captureAtScript([
      [0, null],
      [1000, untilThird],
      [9000, null],
    ]);
    await asked.play();
    expect(readings).toBe(3);
    expect(asked.counted).toEqual([]);
    expect(asked.heard.at(-1)).toMatchObject({ phase: 'off' });
  });

  it('is no moment to say that a piece is open: what was said would not hold', async () => {
    const { session, start, whenTold, heard } = await captureAtScript(STEADY);
    await start();
    const { promise: over, resolve } = Promise.withResolvers<void>();
    const aside = session.aside(() => over);
    while (heard.at(-1)?.phase !== 'waiting') await turn();
    expect(() => session.sayOpen(heard[0]?.run ?? 0)).toThrow(expect.objectContaining({ code: 'reading-under-way' }));
    whenTold(() => undefined);
    resolve();
    await aside;
    await session.stop();
    expect(heard.map(({ outcome }) => outcome)).not.toContain('open-said');
  });
});

describe('two screens of one station', () => {
  it('share a capture that both ask for alike: what is on the probes is not disturbed', async () => {
    const { station, run, start, outcome, heard } = await atQuickBench();
    const { capture } = await start();
    await outcome('contact');
    expect(await start()).toMatchObject({ capture });
    expect(await outcome('captured')).toMatchObject({ capture, run });
    expect(heard.map(({ phase }) => phase)).not.toContain('off');
    await station.ask('stop-capture', { capture });
    expect((await station.ask('overview', {})).live).toMatchObject({ capture, phase: 'off' });
  });

  it('do not end each other’s: an end is of one capture, not of the one that took its place', async () => {
    const { station, start, outcome, off } = await atQuickBench();
    const { capture: first } = await start();
    await outcome('captured');
    const ended = off();
    const { capture: second } = await start({ setting: { settledReadings: 4 } });
    expect(await ended).toMatchObject({ capture: first });
    expect(second).toBeGreaterThan(first);
    // As the first screen does when it hears that its own has ended.
    await station.ask('stop-capture', { capture: first });
    expect(await outcome('captured')).toMatchObject({ capture: second, of: 4 });
    await station.ask('stop-capture', { capture: second });
    expect(await problemOf(station.ask('say-open', { run: 1 }))).toBe('capture-off');
  });

  it('asking at the same time get one and the same', async () => {
    const { start, outcome } = await atQuickBench();
    const [one, other] = await Promise.all([start(), start()]);
    expect(other).toEqual(one);
    await outcome('captured');
  });
});
