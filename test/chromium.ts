import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, expect, onTestFinished, type TestContext } from 'vitest';

const EXECUTABLE = process.env.CHROMIUM ?? '/usr/bin/chromium';
const PICTURES = join(import.meta.dirname, '../test-results/screens');
/** axe-core as a script. */
const AXE = readFileSync(join(import.meta.dirname, '../node_modules/axe-core/axe.min.js'), 'utf8');

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

/** The browser of a test file, from its first page on. */
let browser: Promise<Browser> | null = null;
afterAll(async () => (await browser)?.close());

/**
 * A page with nothing remembered, which no other page sees and which is closed when the test is over. Skips the test, saying
 * why, where there is no Chromium; on CI that is a failure. Any error on the page's console fails the test.
 */
export async function openPage(test: TestContext, options: BrowserContextOptions = {}): Promise<Page> {
  if (!existsSync(EXECUTABLE)) {
    const reason = `no Chromium at ${EXECUTABLE} (Debian: apt install chromium; elsewhere set CHROMIUM)`;
    if (process.env.CI) throw new Error(reason);
    console.warn(`SKIPPED, the screens were NOT checked: ${reason}`);
    test.skip(reason);
  }
  browser ??= chromium.launch({ executablePath: EXECUTABLE, args: ARGUMENTS });
  const context = await (await browser).newContext({ viewport: { width: 1280, height: 720 }, ...options });
  onTestFinished(() => context.close());
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
  // It stays in a page until that is loaded anew. Frames, for which axe-core would need more, these pages have none.
  if (!(await page.evaluate("'axe' in window"))) await page.evaluate(AXE);
  const violations = await page.evaluate(`
    axe.run({ resultTypes: ['violations'] }).then(({ violations }) =>
      violations.map(({ id, nodes }) => id + ': ' + nodes.map(({ target }) => target.join(' ')).join(', ')))
  `);
  expect.soft(violations, name).toEqual([]);
}

/** The same in the dark and in the light, in which the page is left. */
export async function lookBothWays(page: Page, name: string): Promise<void> {
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    await look(page, `${colorScheme}-${name}`);
  }
}
