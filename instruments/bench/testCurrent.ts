import { OVER_RANGE } from './functions.ts';

/**
 * Test current of a resistance range in amperes: one volt at full scale, but no more than 1 mA. Our own meter; the
 * order of magnitude is common practice.
 */
export function testCurrent(rangeOhms: number): number {
  return Math.min(1e-3, 1 / rangeOhms);
}

/**
 * Power in watts the test current makes in a piece (Joule's law, P = I²R). Above the range the source has no more voltage
 * to give, and the current falls.
 */
export function testPower(ohms: number, rangeOhms: number): number {
  const amperes = testCurrent(rangeOhms);
  const volts = amperes * Math.min(ohms, rangeOhms * OVER_RANGE);
  return ohms === 0 ? 0 : volts ** 2 / ohms;
}
