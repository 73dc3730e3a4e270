import { describe, expect, it } from 'vitest';
import { conforms, VERDICTS } from '../../core/window/judge.ts';
import { SOUNDS, type SoundName, soundOf } from '../../renderer/sound/sounds.ts';

const NAMES = Object.keys(SOUNDS) as SoundName[];

/** Each tone as a tick, short or long; pitch is left out. */
const rhythm = (name: SoundName) =>
  SOUNDS[name].map(({ lasts }) => (lasts > 0.25 ? 'long' : lasts > 0.05 ? 'short' : 'tick')).join(' ');

describe('the sounds', () => {
  it('have the rhythms that the screen says', () => {
    expect(Object.fromEntries(NAMES.map((name) => [name, rhythm(name)]))).toEqual({
      contact: 'tick',
      heard: 'tick tick',
      pass: 'short',
      'conditional-pass': 'long',
      fail: 'short short',
      'conditional-fail': 'short long',
      open: 'long short',
      trouble: 'short short short',
    });
  });

  const pairs = NAMES.flatMap((one, index) => NAMES.slice(index + 1).map((other) => [one, other] as const));

  it.each(pairs)('%s and %s are told apart by rhythm alone', (one, other) => {
    const [first, second] = [SOUNDS[one], SOUNDS[other]];
    if (first.length !== second.length) return;
    // As many tones: one of them lasts more than twice as long, far above the fifth or so that listeners can tell apart.
    const ratios = first.map((tone, index) => {
      const against = second[index]?.lasts ?? 0;
      return Math.max(tone.lasts / against, against / tone.lasts);
    });
    expect(Math.max(...ratios)).toBeGreaterThan(2);
  });

  it('leave a gap between tones that can be heard', () => {
    for (const tones of Object.values(SOUNDS)) {
      tones.slice(1).forEach((tone, index) => {
        const before = tones[index];
        expect(tone.at - ((before?.at ?? 0) + (before?.lasts ?? 0))).toBeGreaterThanOrEqual(0.05);
      });
    }
  });

  it('begin at once, and are over before the second next of two pieces a second', () => {
    for (const tones of Object.values(SOUNDS)) {
      expect(tones[0]?.at).toBe(0);
      const last = tones.at(-1);
      expect((last?.at ?? 0) + (last?.lasts ?? 0)).toBeLessThan(0.6);
    }
  });

  it('give every verdict that is no pass another sound than pass', () => {
    expect(soundOf('pass')).toBe('pass');
    for (const verdict of VERDICTS) if (verdict !== 'pass') expect(soundOf(verdict)).not.toBe('pass');
  });

  it('have one tone for a piece that conforms and more for one that does not', () => {
    for (const verdict of VERDICTS) expect(SOUNDS[soundOf(verdict)].length === 1).toBe(conforms(verdict));
  });

  it('never give a verdict the tick that only says what was noticed', () => {
    for (const verdict of VERDICTS) expect(rhythm(soundOf(verdict))).not.toContain('tick');
  });
});
