import { describe, expect, it } from 'vitest';
import { deviationText, limitText, readingText, windowText } from '../../renderer/words/ohms.ts';

const plain = (text: string | null) => text?.replaceAll('\u00a0', ' ') ?? null;
const window = { nominal: '1000', lower: '990', upper: '1010' };
const reading = (ohms: string, raw: string) => plain(readingText({ ohms, raw }, window));

describe('a reading in figures', () => {
  it('shares the unit of its window on both sides of a prefix', () => {
    expect(reading('999.87', '+9.9987E+02')).toBe('0.99987 kΩ');
    expect(reading('1000.2', '+1.0002E+03')).toBe('1.0002 kΩ');
  });

  it('ends at the digit the meter ended at', () => {
    expect(reading('1000', '+1.00000E+03')).toBe('1.00000 kΩ');
  });

  it('is shown in its own unit far from its window', () => {
    expect(reading('0.0123', '+1.23E-02')).toBe('12.3 mΩ');
    expect(reading('2200000', '+2.2000E+06')).toBe('2.2000 MΩ');
  });

  it('says overload where there is no value', () => {
    expect(readingText({ ohms: null, raw: '+9.9E+37' }, window)).toBe('overload');
  });
});

describe('how far a reading is from nominal', () => {
  it('is said in per cent', () => {
    expect(plain(deviationText('1004.6', window))).toBe('0.46 % above nominal');
    expect(plain(deviationText('500', window))).toBe('50 % below nominal');
    expect(plain(deviationText('1000', window))).toBe('at nominal');
    expect(plain(deviationText('1000.01', window))).toBe('at nominal');
  });

  it('is left out where there is nothing to compare with', () => {
    expect(deviationText('5', { nominal: null, lower: null, upper: '10' })).toBeNull();
    expect(deviationText('0.01', { nominal: '0', lower: null, upper: '0.05' })).toBeNull();
  });
});

describe('a window in words', () => {
  it('names the limits it has', () => {
    expect(plain(windowText({ nominal: '4700', lower: '4653', upper: '4747' }))).toBe('4.653 kΩ to 4.747 kΩ');
    expect(plain(windowText({ nominal: null, lower: '1000000', upper: null }))).toBe('at least 1 MΩ');
    expect(plain(windowText({ nominal: null, lower: null, upper: '0.1' }))).toBe('at most 100 mΩ');
  });

  it('gives zero no prefix, whatever the others have', () => {
    expect(plain(limitText('0', { nominal: '0', lower: null, upper: '0.05' }))).toBe('0 Ω');
    expect(plain(windowText({ nominal: null, lower: '0', upper: '0.05' }))).toBe('0 Ω to 50 mΩ');
  });
});
