import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { expect, onTestFinished, type TestContext } from 'vitest';

const EXECUTABLE = process.env.CHROMIUM ?? '/usr/bin/chromium';
const PICTURES = join(import.meta.dirname, '../test-results/screens');

/** Debian's Chromium, quiet: without these it looks for its maker's servers. */
const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * A page in a browser of its own that is closed when the test is over. Skips the test, saying why, where there is no
 * Chromium; on CI that is a failure. Any error on the page's console fails the test.
 */
export async function openPage(test: TestContext, options: BrowserContextOptions = {}): Promise<Page> {
  if (!existsSync(EXECUTABLE)) {
    const reason = `no Chromium at ${EXECUTABLE} (Debian: apt install chromium; elsewhere set CHROMIUM)`;
    if (process.env.CI) throw new Error(reason);
    console.warn(`SKIPPED, the screens were NOT checked: ${reason}`);
    test.skip(reason);
  }
  const browser = await chromium.launch({ executablePath: EXECUTABLE, args: ARGUMENTS });
  onTestFinished(() => browser.close());
  const context: BrowserContext = await browser.newContext({ viewport: { width: 1280, height: 720 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  page.on('console', (message) => expect.soft(message.type(), message.text()).not.toBe('error'));
  page.on('pageerror', (failure) => expect.soft(failure.message).toBe(''));
  return page;
}

/** Keeps a picture of the page as an artefact. */
export async function keepPicture(page: Page, name: string): Promise<void> {
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `${name}.png`) });
}

/** Keeps a picture of the page as an artefact and expects axe-core to find nothing on it. */
export async function look(page: Page, name: string): Promise<void> {
  await keepPicture(page, name);
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect
    .soft(
      violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`),
      name,
    )
    .toEqual([]);
}
