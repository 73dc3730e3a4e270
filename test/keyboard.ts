import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

/** More fields than any screen has. */
const MOST_FIELDS = 60;

/** Goes to a field by the Tab key alone; fails where Tab does not lead there. */
export async function tabTo(page: Page, field: Locator, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  const focused = field.and(page.locator(':focus'));
  for (let press = 0; press < MOST_FIELDS; press++) {
    if ((await focused.count()) > 0) return;
    await page.keyboard.press(key);
  }
  expect(await focused.count(), `${key} leads to ${field}`).toBe(1);
}
