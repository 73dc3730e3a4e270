import { describe, expect, it } from 'vitest';
import { conforms, VERDICTS } from '../../core/window/judge.ts';
import { SOUNDS, soundOf } from '../../renderer/sound/sounds.ts';

describe('the sounds', () => {
  /** Each tone as short or long, against the longest of all; pitch is left out. */
  const rhythm = (name: keyof typeof SOUNDS) =>
    SOUNDS[name].map((tone) => (tone.lasts > 0.25 ? 'long' : 'short')).join(' ');

  it('differ by rhythm alone', () => {
    expect(rhythm('pass')).toBe('short');
    expect(rhythm('conditional-pass')).toBe('long');
    expect(rhythm('fail')).toBe('short short');
    expect(rhythm('conditional-fail')).toBe('short long');
    expect(rhythm('open')).toBe('long short');
    expect(rhythm('trouble')).toBe('short short short');
    const rhythms = (Object.keys(SOUNDS) as (keyof typeof SOUNDS)[]).map(rhythm);
    expect(new Set(rhythms).size).toBe(rhythms.length);
  });

  it('leave a gap between tones that can be heard', () => {
    for (const tones of Object.values(SOUNDS)) {
      tones.slice(1).forEach((tone, index) => {
        const before = tones[index];
        expect(tone.at - ((before?.at ?? 0) + (before?.lasts ?? 0))).toBeGreaterThanOrEqual(0.05);
      });
    }
  });

  it('give every verdict that is no pass another sound than pass', () => {
    expect(soundOf('pass')).toBe('pass');
    for (const verdict of VERDICTS) if (verdict !== 'pass') expect(soundOf(verdict)).not.toBe('pass');
  });

  it('have one tone for a piece that conforms and more for one that does not', () => {
    for (const verdict of VERDICTS) expect(SOUNDS[soundOf(verdict)].length === 1).toBe(conforms(verdict));
  });
});
