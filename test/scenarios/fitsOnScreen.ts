import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** A function that runs in the page. The statement ends with a semicolon, which an expression may not. */
function inPage(file: string): string {
  return readFileSync(join(import.meta.dirname, 'inPage', file), 'utf8')
    .trimEnd()
    .replace(/;$/, '');
}

const DOES_NOT_FIT = inPage('doesNotFit.js');
const CUT_TEXT = inPage('cutText.js');

/** What of these parts of a page does not fit, in words; empty where all of it does. */
export function whatDoesNotFit(page: Page, parts: readonly string[]): Promise<string[]> {
  return page.evaluate(`(${DOES_NOT_FIT})(${JSON.stringify(parts)})`);
}

/** What text of a page is cut off or reaches out of its place, in words; empty where none does. */
export function whatIsCut(page: Page): Promise<string[]> {
  return page.evaluate(`(${CUT_TEXT})()`);
}

/** Shows a page as on a screen of so many pixels, zoomed: to the page, zoom is a smaller screen. */
export async function asOnScreen(page: Page, width: number, height: number, zoom = 1): Promise<void> {
  await page.setViewportSize({ width: width / zoom, height: height / zoom });
  await expect.poll(() => page.evaluate('innerWidth')).toBe(width / zoom);
}
