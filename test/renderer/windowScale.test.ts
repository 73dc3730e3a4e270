import { describe, expect, it } from 'vitest';
import { placeOn, windowScale } from '../../renderer/windowBar/windowScale.ts';

describe('the scale of the window bar', () => {
  it('reaches half a window beyond each limit', () => {
    // 4700 Ω ±1 %: 4653 to 4747, 94 wide; half of it is 47.
    const scale = windowScale({ nominal: '4700', lower: '4653', upper: '4747' });
    expect([scale.from, scale.to]).toEqual([4606, 4794]);
    expect(scale.band).toEqual({ start: 0.25, end: 0.75 });
    expect(scale.nominal).toBe(0.5);
  });

  it('puts the nominal value off the middle where the tolerance is asymmetric', () => {
    // 100 Ω +5 -10 %: 90 to 105, 15 wide; the line runs from 82.5 to 112.5.
    const scale = windowScale({ nominal: '100', lower: '90', upper: '105' });
    expect(scale.nominal).toBeCloseTo(17.5 / 30, 12);
  });

  it('leaves the open side of a one-sided window without a limit', () => {
    const atLeast = windowScale({ nominal: null, lower: '1000000', upper: null });
    expect(atLeast.band).toEqual({ start: 0.25, end: 1 });
    const atMost = windowScale({ nominal: null, lower: null, upper: '0.1' });
    expect(atMost.from).toBe(0);
    expect(atMost.band.start).toBe(0);
    expect(atMost.band.end).toBeCloseTo(2 / 3, 12);
  });

  it('keeps the nominal of a one-sided window on the line', () => {
    // A jumper: nominally 0 Ω, at most 50 mΩ.
    const jumper = windowScale({ nominal: '0', lower: null, upper: '0.05' });
    expect(jumper.nominal).toBe(0);
    const wide = windowScale({ nominal: '1500', lower: '1000', upper: null });
    expect(wide.nominal).toBe(0.5);
  });

  it('has a stretch even where the only limit is zero', () => {
    const scale = windowScale({ nominal: null, lower: null, upper: '0' });
    expect(scale.to).toBeGreaterThan(scale.from);
  });
});

describe('the place of a piece', () => {
  const scale = windowScale({ nominal: '4700', lower: '4653', upper: '4747' });

  it('is where its value is', () => {
    expect(placeOn(scale, '4653')).toEqual({ at: 0.25, beyond: null });
    expect(placeOn(scale, '4747')).toEqual({ at: 0.75, beyond: null });
  });

  it('is beyond an end for a value off the line, and beyond the upper end for an overload', () => {
    expect(placeOn(scale, '470')).toEqual({ at: 0, beyond: 'below' });
    expect(placeOn(scale, '47000')).toEqual({ at: 1, beyond: 'above' });
    expect(placeOn(scale, null)).toEqual({ at: 1, beyond: 'above' });
  });
});
