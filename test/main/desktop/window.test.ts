import { execFile } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { _electron as electron } from 'playwright-core';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '../../..');

/** Electron's executable, where its runtime was fetched and a display is there to show a window on; else why not. */
function runtime(): { executable: string } | { missing: string } {
  // Never by importing `electron`: that would try to fetch the runtime.
  const folder = join(root, 'node_modules/electron');
  const named = join(folder, 'path.txt');
  const executable = existsSync(named) ? join(folder, 'dist', readFileSync(named, 'utf8')) : '';
  if (!existsSync(executable)) return { missing: 'the Electron runtime is not installed (npx install-electron --no)' };
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
    return { missing: 'there is no display (on Linux: xvfb-run npm test)' };
  }
  return { executable };
}

test('the real window shows the screen, reaches the station, and is shut in', async (context) => {
  const found = runtime();
  if ('missing' in found) {
    console.warn(`Skipped, the window was NOT checked: ${found.missing}.`);
    return context.skip(found.missing);
  }
  const tool = join(root, 'node_modules/electron-vite/bin/electron-vite.js');
  // Inside the project, so that the built program finds its packages.
  mkdirSync(join(root, 'test-results'), { recursive: true });
  const out = mkdtempSync(join(root, 'test-results/window-'));
  await promisify(execFile)(process.execPath, [tool, 'build', '--outDir', out, '--logLevel', 'warn'], { cwd: root });

  // A page that would answer anybody, if only it were reached.
  const elsewhere = createServer((_request, response) => {
    response.setHeader('Access-Control-Allow-Origin', '*').end('reached');
  }).listen(0, '127.0.0.1');
  await once(elsewhere, 'listening');
  const { port } = elsewhere.address() as AddressInfo;

  const data = mkdtempSync(join(tmpdir(), 'window-'));
  // Chromium refuses its sandbox to root, which is what many build machines run as.
  const noSandbox = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const application = await electron.launch({
    executablePath: found.executable,
    args: [...noSandbox, join(out, 'main/desktop.js'), `--data=${data}`],
  });
  try {
    const page = await application.firstWindow();
    await page.waitForLoadState('load');
    expect(page.url()).toBe('app://station/');
    await page.locator('#screen > *').first().waitFor();

    const seen = await page.evaluate(async (port) => {
      const page = globalThis as unknown as {
        reelohm: { ask(name: string, question: object): Promise<{ answer: { recordFile: string } }> };
        open(address: string): unknown;
      };
      return {
        bridge: Object.keys(page.reelohm).sort(),
        node: ['require', 'process', 'Buffer', 'module'].filter((name) => name in globalThis),
        overview: (await page.reelohm.ask('overview', {})).answer,
        ports: await page.reelohm.ask('list-ports', {}),
        refused: await page.reelohm.ask('no-such-request', {}),
        secondWindow: page.open('app://station/'),
        outside: (await fetch('app://station/..%2f..%2fpackage.json')).status,
        network: await fetch(`http://127.0.0.1:${port}/`).then(
          () => 'reached',
          () => 'refused',
        ),
      };
    }, port);
    expect(seen).toMatchObject({
      bridge: ['ask', 'listen'],
      node: [],
      overview: { recordFile: expect.stringContaining(data) },
      ports: { answer: expect.any(Array) },
      refused: { problem: { code: 'input-invalid' } },
      secondWindow: null,
      outside: 404,
      network: 'refused',
    });

    await page.evaluate(() => {
      (globalThis as unknown as { location: { href: string } }).location.href = 'https://example.invalid/';
    });
    expect(await page.evaluate(() => (globalThis as unknown as { location: { href: string } }).location.href)).toBe(
      'app://station/',
    );
    expect(application.windows()).toHaveLength(1);

    const ended = new Promise((resolve) => application.process().once('exit', resolve));
    // The answer may be lost with the program.
    await application.evaluate(({ app }) => app.quit()).catch(() => {});
    expect(await ended).toBe(0);
  } finally {
    await application.close().catch(() => {});
    elsewhere.close();
    rmSync(data, { recursive: true, force: true });
    rmSync(out, { recursive: true, force: true });
  }
}, 120_000);
