import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { build } from 'vite';
import { type PlainChromium, type PlainPage, startChromium } from './screen/plainChromium.ts';
import type { Order, Report } from './screen/servedStation.ts';

/** Fewer than the bench has to be checked again after. */
const TAKEN = 400;
const PER_SECOND = 20;
const SMALL_RUN = 10_000;
const LARGE_RUN = 1_000_000;
/** The charts, fetched and drawn the first time, are not what is measured. */
const SETTLE_MILLISECONDS = 3000;
const FORK_TIMEOUT_MILLISECONDS = 300_000;

/** How a page did while readings came. All in milliseconds, but `busy`, the share of the time for which its main thread had a processor. */
export interface Appending {
  toPainted: number[];
  frames: number[];
  longTasks: number[];
  busy: number;
}

/** How the opening of a large run went, and looking along its chart. */
export interface LargeRun {
  milliseconds: number[];
  openingLongTasks: number[];
  panningLongTasks: number[];
  appending: Appending;
}

export interface ScreenFigures {
  small: Appending;
  peer: Appending;
  large: LargeRun;
}

/** The measuring screen in Chromium, on a real station behind the loopback door; and a page that only paints a number. */
export async function measureScreen(executablePath: string): Promise<ScreenFigures> {
  const browser = await startChromium(executablePath);
  try {
    return { small: await smallRun(browser), peer: await peer(browser), large: await largeRun(browser) };
  } finally {
    await browser.close();
  }
}

async function smallRun(browser: PlainChromium): Promise<Appending> {
  return served('servedStation.ts', [String(SMALL_RUN), 'disk'], async (station, address) => {
    const page = await pageOf(browser, address);
    await openFromList(page, SMALL_RUN);
    return appending(page, station);
  });
}

async function peer(browser: PlainChromium): Promise<Appending> {
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      outDir: folder,
      emptyOutDir: true,
      lib: { entry: join(import.meta.dirname, 'screen/peerPage.js'), formats: ['es'], fileName: 'page' },
    },
    define: { 'process.env.NODE_ENV': '"production"' },
  });
  try {
    return await served('peerServer.ts', [folder], async (server, address) =>
      appending(await pageOf(browser, address), server),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** @returns of three openings each */
async function largeRun(browser: PlainChromium): Promise<LargeRun> {
  return served('servedStation.ts', [String(LARGE_RUN), 'memory'], async (station, address) => {
    const milliseconds: number[] = [];
    const openingLongTasks: number[] = [];
    for (let opening = 0; opening < 3; opening++) {
      const page = await pageOf(browser, address);
      milliseconds.push(await openFromList(page, LARGE_RUN));
      openingLongTasks.push(...(await longTasks(page)));
      await page.close();
    }
    const page = await pageOf(browser, address);
    await openFromList(page, LARGE_RUN);
    await wait(2 * SETTLE_MILLISECONDS);
    const panningLongTasks = await panning(page);
    return { milliseconds, openingLongTasks, panningLongTasks, appending: await appending(page, station) };
  });
}

/** Runs one of the servers of the folder `screen` while it is used. */
async function served<T>(
  file: string,
  args: string[],
  use: (server: ChildProcess, address: string) => Promise<T>,
): Promise<T> {
  const server = fork(join(import.meta.dirname, 'screen', file), args, {
    execArgv: ['--max-old-space-size=6000'],
    stdio: 'inherit',
  });
  try {
    const report = await reported(server);
    if (!('address' in report)) throw new Error('the server did not say where it is');
    return await use(server, report.address);
  } finally {
    const ended = once(server, 'exit');
    server.disconnect();
    await ended;
  }
}

async function reported(server: ChildProcess): Promise<Report> {
  const signal = AbortSignal.timeout(FORK_TIMEOUT_MILLISECONDS);
  const [report] = await Promise.race([
    once(server, 'message', { signal }),
    once(server, 'exit', { signal }).then(() => {
      throw new Error('the server ended');
    }),
  ]);
  return report as Report;
}

function pageOf(browser: PlainChromium, address: string): Promise<PlainPage> {
  return browser.page(address, readFileSync(join(import.meta.dirname, 'screen/paintTimes.js'), 'utf8'));
}

/** From the key on the run in the list to its figure and its charts of all so many readings painted. */
async function openFromList(page: PlainPage, readings: number): Promise<number> {
  const button = 'button[aria-label^="Go on with lot"]';
  await page.evaluate(`whenPainted('${button}')`);
  // The list has come to rest.
  await wait(SETTLE_MILLISECONDS);
  await page.evaluate(`{
    measured.longTasks.length = 0;
    addEventListener('keydown', () => { measured.pressed = now(); }, { capture: true, once: true });
    document.querySelector('${button}').focus();
  }`);
  // A real key, as a person presses it: with it the page makes ready to sound.
  await page.press('Enter');
  return page.evaluate<number>(`(async () => {
    await whenPainted('.reading-value');
    return await whenPainted('${chartsDrawn(readings)}') - measured.pressed;
  })()`);
}

/** Both charts have their drawing of so many readings: the line of the first, and a bar of the second. */
function chartsDrawn(readings: number): string {
  const [line, bars] = [`Readings in order, ${readings} so far,`, `How many of ${readings} readings lie`];
  return `.charts:has([aria-label^="${line}"] path.chart-line):has([aria-label^="${bars}"] path.chart-bars)`;
}

async function appending(page: PlainPage, server: ChildProcess): Promise<Appending> {
  await wait(SETTLE_MILLISECONDS);
  await page.evaluate(`measured.longTasks.length = 0; watchText('.reading-of'); watchFrames(true)`);
  const first = await readingsOf(page, server);
  // Asking for every frame is work as well: the share of the time is measured without.
  await page.evaluate('watchFrames(false)');
  const before = await page.worked();
  const second = await readingsOf(page, server);
  const after = await page.worked();
  const { frames } = await page.evaluate<{ frames: number[] }>('measured');
  return {
    toPainted: [...first, ...second],
    frames,
    longTasks: await longTasks(page),
    busy: (after.worked - before.worked) / (after.at - before.at),
  };
}

/** Has readings taken; milliseconds from each of them to when it was painted. */
async function readingsOf(page: PlainPage, server: ChildProcess): Promise<number[]> {
  server.send({ take: TAKEN, perSecond: PER_SECOND } satisfies Order);
  const report = await reported(server);
  if (!('taken' in report)) throw new Error('the server took no readings');
  await wait(500);
  const { painted } = await page.evaluate<{ painted: Record<string, number> }>('measured');
  return report.taken.map(([piece, at]) => {
    // One that was never seen alone was painted with a later one; as late as that.
    const later = Object.entries(painted)
      .filter(([text]) => Number(text.replace(/\D/g, '')) >= piece)
      .map(([, time]) => time);
    return Math.min(...later) - at;
  });
}

/** Nearer, then along the whole chart and back, by keys, as quickly as a key repeats. */
async function panning(page: PlainPage): Promise<number[]> {
  await page.evaluate(`document.querySelector('.zoom-strip').focus()`);
  await page.evaluate('measured.longTasks.length = 0');
  const shown = () => page.evaluate<string>(`document.querySelector('.zoom-strip').ariaValueText`);
  const keys = ['+', '+', '+', '+', '+', 'Home', ...Array<string>(40).fill('ArrowRight'), 'End'];
  const seen = new Set<string>();
  for (const key of [...keys, ...Array<string>(40).fill('ArrowLeft'), '-', '-', '-', '-', '-']) {
    await page.press(key);
    await wait(33);
    seen.add(await shown());
  }
  // What did not move was not panned.
  if (seen.size < 40) throw new Error(`of the chart only this was shown: ${[...seen].join('; ')}`);
  await wait(500);
  return longTasks(page);
}

function longTasks(page: PlainPage): Promise<number[]> {
  return page.evaluate<number[]>('measured.longTasks');
}
