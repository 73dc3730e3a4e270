import { expect, it } from 'vitest';
import { seededRandom } from '../../campaign/seededRandom.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';
import { killAgainAndAgain } from './kills.ts';

/** Of `npm run campaign` there are 200. */
const KILLS = 10;

it('a record keeps every reading that was told through kill -9 at random moments, its chain whole', async () => {
  const seed = Math.floor(Math.random() * 2 ** 31);
  const lanes = [1, 2].map((lane) => killAgainAndAgain(temporaryFolder(), KILLS / 2, seededRandom(seed, lane)));
  const done = await Promise.all(lanes);
  for (const { faults } of done) expect(faults, `seed ${seed}`).toEqual([]);
  // How many moments lie among readings is chance and the machine's.
  expect(done.reduce((sum, { amongReadings }) => sum + amongReadings, 0)).toBeGreaterThan(0);
  expect(done.reduce((sum, { readings }) => sum + readings, 0)).toBeGreaterThan(0);
}, 300_000);
