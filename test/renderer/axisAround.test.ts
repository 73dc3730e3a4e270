import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { axisAround, ohmsTick, percentTick } from '../../renderer/charts/axisAround.ts';

describe('an axis around values', () => {
  it('ends at round figures, marked in one unit to one digit', () => {
    const axis = axisAround(4693.2, 4712.9);
    expect(axis.ticks.map((tick) => ohmsTick(tick, axis))).toEqual([
      '4.690\u00a0kΩ',
      '4.695\u00a0kΩ',
      '4.700\u00a0kΩ',
      '4.705\u00a0kΩ',
      '4.710\u00a0kΩ',
      '4.715\u00a0kΩ',
    ]);
    const change = axisAround(-0.31, 0.31);
    expect(change.ticks.map((tick) => percentTick(tick, change))).toEqual([
      '\u22120.4\u00a0%',
      '\u22120.2\u00a0%',
      '0.0\u00a0%',
      '0.2\u00a0%',
      '0.4\u00a0%',
    ]);
  });

  it('has room around a single value', () => {
    const { from, to } = axisAround(100, 100);
    expect(from).toBeLessThan(100);
    expect(to).toBeGreaterThan(100);
  });

  it('holds all values, has few marks and readable texts, whatever the values', () => {
    const ohms = fc.double({ min: -1e12, max: 1e12, noNaN: true });
    fc.assert(
      fc.property(ohms, fc.double({ min: 0, max: 1e12, noNaN: true }), (lowest, width) => {
        const axis = axisAround(lowest, lowest + width);
        const slack = (axis.to - axis.from) * 1e-6;
        expect(axis.from).toBeLessThanOrEqual(lowest + slack);
        expect(axis.to).toBeGreaterThanOrEqual(lowest + width - slack);
        expect(axis.ticks.length).toBeGreaterThan(1);
        expect(axis.ticks.length).toBeLessThan(10);
        for (const tick of axis.ticks) expect(ohmsTick(tick, axis)).toMatch(/^-?\d+(\.\d+)?\u00a0[mkMGT]?Ω$/);
      }),
    );
  });
});
