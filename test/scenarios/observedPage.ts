import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { InspectionEvent } from '../../core/inspection/event.ts';

const IN_PAGE = join(import.meta.dirname, 'inPage');

/** What a page did, each with its moment in milliseconds on the page's clock. */
export interface Observed {
  /** Keys that were pressed. */
  keys: number[];
  /** Events of the run. */
  events: InspectionEvent[];
  /**
   * What the station told that is to be heard: the verdict of a reading, `live` and what happened at the probes, `closed` or
   * `not closed`.
   */
  news: { at: number; what: string }[];
  /** How often sound was asked of the browser. */
  audio: number;
  /**
   * Tones that were begun: when, on the computer's clock too; when they are to sound in seconds of the sound's clock, and in how
   * many milliseconds that is (less than 0: their beginning is lost); for how many seconds (null: until somebody stops them),
   * and when that was said.
   */
  tones: {
    at: number;
    clock: number;
    when: number;
    after: number;
    lasts: number | null;
    hertz: number;
    stoppedAt?: number;
  }[];
  /** What was spoken, where a voice was lent. */
  spoken: string[];
}

/**
 * Has a page note keys, news and Web Audio as they come.
 * @param voice lends the page a voice whose words are noted
 */
export async function observe(page: Page, voice = false): Promise<void> {
  await page.addInitScript({ path: join(IN_PAGE, 'noteCalls.js') });
  if (voice) await page.addInitScript({ path: join(IN_PAGE, 'lendVoice.js') });
}

/** What the page has noted up to now. */
export function observedOn(page: Page): Promise<Observed> {
  return page.evaluate('observed');
}
