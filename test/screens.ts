import type { Locator, Page } from 'playwright-core';
import type { TestContext } from 'vitest';
import { openPage } from './chromium.ts';
import { lineFrom, startReelohm } from './reelohm.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** A station's page with the keyboard it is worked by. */
export interface Job {
  page: Page;
  press(...keys: string[]): Promise<void>;
}

/**
 * A station served for the browser, opened in Chromium at its printed address.
 * @param data its data folder; a new one where it is left out
 * @param prepare is given the page before anything is loaded into it
 */
export async function openStation(
  test: TestContext,
  colorScheme: 'light' | 'dark' = 'light',
  data: string = temporaryFolder(),
  prepare: (page: Page) => Promise<void> = async () => {},
): Promise<Job> {
  const server = startReelohm(['open', '--browser', '--no-launch', '--data', data]);
  const [, address = ''] = await lineFrom(server.stdout, /Reelohm is at (\S+)/);
  const page = await openPage(test, { colorScheme, acceptDownloads: true });
  await prepare(page);
  await page.goto(address);
  await page.getByRole('button', { name: 'Receive a lot' }).waitFor();
  return {
    page,
    press: async (...keys) => {
      for (const key of keys) await page.keyboard.press(key);
    },
  };
}

/** The checks that take a key; method and range follow the reference by themselves. */
const KEYED_CHECKS = [
  'The meter',
  'Open leads',
  'Shorted leads',
  'No voltage on the fixture',
  'Reference resistor',
  'Ambient temperature',
] as const;

/** Waits until this check is under work, with its key ready. */
export async function atCheck(page: Page, title: string): Promise<void> {
  const now = page.getByRole('listitem').and(page.locator('.check[aria-current="step"]')).filter({ hasText: title });
  await now.locator(':focus').waitFor();
  await now.locator('.action-primary:not([aria-disabled])').waitFor();
}

/** Does the checks of the bench up to this one, each with the Enter key; on the simulated bench nothing else is needed. */
export async function showReady(
  page: Page,
  last: (typeof KEYED_CHECKS)[number] = 'Ambient temperature',
): Promise<void> {
  for (const title of KEYED_CHECKS.slice(0, KEYED_CHECKS.indexOf(last) + 1)) {
    await atCheck(page, title);
    await page.keyboard.press('Enter');
  }
}

/**
 * On the simulated bench, from choosing the meter to the first piece. No mouse.
 * @param lookAt is told each screen on the way
 * @param address of a simulated bench that is served elsewhere; null for the station's own
 */
export async function makeReady(
  { page, press }: Job,
  lookAt: (screen: string) => Promise<void> = async () => {},
  address: string | null = null,
): Promise<void> {
  await page.getByRole('heading', { name: 'Get the bench ready' }).waitFor();
  await page.getByRole('radio', { name: 'Simulated bench' }).and(page.locator(':focus')).waitFor();
  if (address !== null) {
    // By key: ports that are found move what is below them.
    await page.getByRole('radio', { name: 'Another address' }).focus();
    await press('Space');
    await page.getByRole('textbox', { name: 'Address' }).fill(address);
  }
  await lookAt('3-meter');
  await press('Enter');
  await page.getByRole('checkbox').first().and(page.locator(':focus')).waitFor();
  const cautions = await page.getByRole('checkbox').count();
  for (let caution = 0; caution < cautions; caution++) await press('Space', 'Tab');
  await lookAt('4-cautions');
  await press('Enter');
  await atCheck(page, 'The meter');
  await lookAt('4-ready');
  await showReady(page);
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
}

/** Takes a reading by its key, once there is a key for it: the answer to the one before may be on its way still. */
export async function takeReading({ page, press }: Job): Promise<void> {
  const button = page.getByRole('button', { name: 'Take reading' });
  await button.and(page.locator(':not([aria-disabled])')).waitFor();
  await press('Space');
}

/** What says that this piece is the next one, with its position along the reel where that is known. */
export function nextPiece(page: Page, piece: number): Locator {
  return page.locator('.measure-next').filter({ hasText: new RegExp(`^Next: .*\\bpiece ${piece}\\b`) });
}

/** What says that this piece is to be measured once more. */
export function pieceAgain(page: Page, piece: number): Locator {
  return page
    .locator('.measure-next')
    .filter({ hasText: new RegExp(`^(Once more: .*\\bpiece ${piece}\\b|Piece ${piece} once more)`) });
}
