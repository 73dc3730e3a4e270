import { expect, it } from 'vitest';
import { CLOSED_HERTZ } from '../../renderer/sound/sounds.ts';
import { look } from '../chromium.ts';
import { openStation } from '../screens.ts';
import { observe, observedOn } from './observedPage.ts';

/** From news to tone, and to silence. */
const MOST_MILLISECONDS = 100;

it('sounds for as long as the probes close a circuit, and is silent while they are open', async (test) => {
  const { page, press } = await openStation(test, 'light', undefined, (opened) => observe(opened));
  await press('c');
  await page.getByRole('heading', { name: 'Continuity' }).waitFor();
  await look(page, 'continuity-1-begin');
  // The cautions come first, and an address nobody answers at is said in words.
  await press('Enter');
  await page.getByRole('alert').filter({ hasText: 'not confirmed' }).waitFor();
  await page.getByRole('checkbox').check();
  await page.getByLabel('Address of the meter').fill('tcp://127.0.0.1:1');
  await press('Enter');
  await page.getByRole('alert').filter({ hasText: '127.0.0.1' }).waitFor();
  await page.getByLabel('Address of the meter').fill('sim:');
  await press('Enter');
  await page.getByRole('status').filter({ hasText: 'Closed' }).waitFor();
  await page.emulateMedia({ colorScheme: 'dark' });
  await look(page, 'continuity-2-watch');
  const height: number = await page.evaluate(
    "document.querySelector('.continuity-word').getBoundingClientRect().height / innerHeight",
  );
  expect(height).toBeGreaterThan(0.09);
  const changes = async () => {
    const { news } = await observedOn(page);
    return news.filter(({ what }, index) => what !== news[index - 1]?.what);
  };
  await expect.poll(async () => (await changes()).length, { timeout: 60_000 }).toBeGreaterThan(6);
  await press('Escape');
  await page.getByLabel('Address of the meter').waitFor();

  const { tones } = await observedOn(page);
  expect(tones.length).toBeGreaterThan(2);
  for (const { at, what } of (await changes()).slice(0, 7)) {
    if (what === 'closed') {
      const tone = tones.find((begun) => begun.at >= at);
      expect(tone?.hertz).toBe(CLOSED_HERTZ);
      expect(Number(tone?.at) + Number(tone?.after) - at).toBeLessThan(MOST_MILLISECONDS);
    } else {
      // Whatever sounded was cut; the last one, too.
      const sounding = tones.filter((begun) => begun.at < at && (begun.stoppedAt ?? at) >= at);
      for (const tone of sounding) expect(Number(tone.stoppedAt) - at).toBeLessThan(MOST_MILLISECONDS);
    }
  }
  expect(tones.every(({ stoppedAt }) => stoppedAt !== undefined)).toBe(true);

  // Off means off: the same again makes no sound.
  await page.getByRole('button', { name: 'Sound and look' }).click();
  await page.getByRole('slider').fill('0');
  await press('Escape');
  await page.getByRole('checkbox').check();
  await press('Enter');
  await page.getByRole('status').filter({ hasText: 'Closed' }).waitFor();
  await page.getByText('Sound is off').waitFor();
  expect((await observedOn(page)).tones.length).toBe(tones.length);
}, 240_000);
