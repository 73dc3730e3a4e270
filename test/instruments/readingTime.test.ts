import { describe, expect, it } from 'vitest';
import { type ReadingWork, readingMilliseconds } from '../../instruments/meter/readingTime.ts';

const quick: ReadingWork = {
  integrationCycles: '0.02',
  range: 'fixed',
  rangeOhms: '1000',
  characters: 40,
  characterMilliseconds: 0,
};
const base = readingMilliseconds(quick);

describe('how long a reading may take', () => {
  it('holds two integrations of a slow meter: 100 cycles of 50 Hz last 2 s, with auto-zero 4 s', () => {
    expect(readingMilliseconds({ ...quick, integrationCycles: 100 })).toBeGreaterThan(4000 + 2000);
    expect(readingMilliseconds({ ...quick, integrationCycles: '10' })).toBeGreaterThan(400 + 2000);
    expect(base).toBeLessThan(2100);
  });

  it('holds all ranges of a meter that looks for the right one', () => {
    expect(readingMilliseconds({ ...quick, integrationCycles: 100, range: 'auto' })).toBeGreaterThan(8 * 4000);
  });

  it('holds settling to a millionth: ln 1e6 = 13.8 time constants of range and a nanofarad', () => {
    const atGigaohm = readingMilliseconds({ ...quick, rangeOhms: '1e9' });
    expect(atGigaohm - base).toBeGreaterThan(Math.log(1e6) * 1e9 * 1e-9 * 1000);
    expect(readingMilliseconds({ ...quick, rangeOhms: '1e5' }) - base).toBeLessThan(10);
  });

  it('holds the time of the line: at 1200 baud, 10 bits a character, 100 characters take 833 ms', () => {
    const slow = readingMilliseconds({ ...quick, characters: 100, characterMilliseconds: 10_000 / 1200 });
    expect(slow - base).toBeGreaterThanOrEqual(833);
  });
});
