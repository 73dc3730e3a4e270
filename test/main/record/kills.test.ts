import { expect, it } from 'vitest';
import { seededRandom } from '../../campaign/seededRandom.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { killAgainAndAgain } from './kills.ts';

/** Of `npm run campaign` there are 200. */
const KILLS = 10;

it('a record keeps every reading that was told through kill -9 at random moments, its chain whole', async () => {
  const seed = Math.floor(Math.random() * 2 ** 31);
  const lanes = [1, 2].map((lane) => killAgainAndAgain(temporaryFolder(), KILLS / 2, seededRandom(seed, lane)));
  for (const { faults, amongReadings, readings } of await Promise.all(lanes)) {
    expect(faults, `seed ${seed}`).toEqual([]);
    expect(amongReadings).toBeGreaterThan(0);
    expect(readings).toBeGreaterThan(5);
  }
}, 300_000);
