import type { Page } from 'playwright-core';

/** From one character to the next, as a scanner that acts as a keyboard sends them. */
const MILLISECONDS = 5;

/**
 * Types as a bar code scanner that acts as a keyboard does: every character a few milliseconds after the last, then Enter or Tab.
 * The times are told to the browser with each key, so that a machine that is busy makes no slow typist of it.
 */
export async function scan(page: Page, text: string, end: 'Enter' | 'Tab' = 'Enter'): Promise<void> {
  const client = await page.context().newCDPSession(page);
  let at = Date.now();
  const press = async (key: string, code: string, windowsVirtualKeyCode: number, typed: string) => {
    at += MILLISECONDS;
    const key_ = { key, code, windowsVirtualKeyCode, timestamp: at / 1000 };
    await client.send('Input.dispatchKeyEvent', { type: 'keyDown', ...key_, ...(typed !== '' && { text: typed }) });
    await client.send('Input.dispatchKeyEvent', { type: 'keyUp', ...key_ });
  };
  for (const character of text) await press(character, '', character.toUpperCase().charCodeAt(0), character);
  await press(end, end, end === 'Enter' ? 13 : 9, end === 'Enter' ? '\r' : '');
  await client.detach();
}
