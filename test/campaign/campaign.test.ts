import { describe, expect, it } from 'vitest';
import { socatIsHere } from '../instruments/ptyPair.ts';
import { careless } from './carelessMeter.ts';
import { runCampaign } from './runCampaign.ts';

const links = socatIsHere() ? (['pty', 'tcp'] as const) : (['tcp'] as const);
const LONGEST_MILLISECONDS = 240_000;
/** Among its first 250 faults is each kind there is. */
const FIXED_SEED = 20_261;

// `npm run campaign -- --seed <seed> --faults <faults> --lanes 20` commits the same faults again.
describe('a meter that misbehaves, in another process', () => {
  it('never has a reading taken for that of another piece, nor makes anything hang', {
    timeout: LONGEST_MILLISECONDS,
  }, async () => {
    const tally = await runCampaign({ seed: FIXED_SEED, faults: 250, lanes: 20, links });
    expect(tally).toMatchObject({ wrong: [], hangs: [], failures: [], faults: 250 });
    expect(tally.missing).toEqual([]);
  });

  it('nor with faults that were never tried before', { timeout: LONGEST_MILLISECONDS }, async () => {
    const seed = Math.floor(Math.random() * 2 ** 31);
    console.log(`campaign of 100 faults in 20 lanes, seed ${seed}`);
    const tally = await runCampaign({ seed, faults: 100, lanes: 20, links });
    expect(tally, `seed ${seed}`).toMatchObject({ wrong: [], hangs: [], failures: [], faults: 100 });
  });

  it('has readings taken for those of other pieces by a program without proof and pairing', {
    timeout: LONGEST_MILLISECONDS,
  }, async () => {
    const tally = await runCampaign({ seed: FIXED_SEED, faults: 40, lanes: 10, links: ['tcp'], connector: careless });
    expect(tally.wrong.join('\n')).toMatch(/E\+04 was read of piece/);
    // Volts after somebody turned the knob, or after the power was off.
    expect(tally.wrong.join('\n')).toMatch(/E\+00 was read of piece/);
    expect(tally.isGood).toBe(false);
  });
});
