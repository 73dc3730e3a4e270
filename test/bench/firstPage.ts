import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { type Browser, chromium } from 'playwright-core';

const STARTS = 5;
const SETTLE_MILLISECONDS = 1500;

/** Milliseconds from the start of the server to a page a person can use, in a Chromium that is running already. */
export async function measureFirstPage(executablePath: string): Promise<number[]> {
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
  try {
    const taken: number[] = [];
    for (let start = 0; start < STARTS; start++) taken.push(await oneStart(browser));
    return taken;
  } finally {
    await browser.close();
  }
}

async function oneStart(browser: Browser): Promise<number> {
  const data = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const context = await browser.newContext();
  const page = await context.newPage();
  // The browser is to be running, not still starting.
  await page.waitForTimeout(SETTLE_MILLISECONDS);
  const began = performance.now();
  const start = join(import.meta.dirname, '../../main/start.js');
  const server = spawn(process.execPath, [start, 'open', '--browser', '--no-launch', '--data', data], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  try {
    for await (const line of createInterface({ input: server.stdout })) {
      const address = /Reelohm is at (\S+)/.exec(line)?.[1];
      if (!address) continue;
      await page.goto(address, { waitUntil: 'commit' });
      await page.getByRole('button', { name: /Receive a lot/ }).waitFor();
      return performance.now() - began;
    }
    throw new Error('the server ended');
  } finally {
    server.kill();
    await context.close();
    rmSync(data, { recursive: true, force: true });
  }
}
