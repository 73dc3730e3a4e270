import { join } from 'node:path';
import open from 'open';
import { OPEN_STATION } from '../../core/contract/contract.ts';
import { serveLoopback } from '../loopback/serveLoopback.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { openingStation } from '../station/openingStation.ts';
import { VERSION } from '../version.ts';
import { openWindow } from './desktopWindow.ts';
import { exitStatus } from './exitStatus.ts';
import { LiveLine } from './liveLine.ts';
import { untilStopped } from './untilStopped.ts';
import { wholeNumber } from './wholeNumber.ts';

export interface OpenOptions {
  data?: string;
  browser?: boolean;
  launch: boolean;
  port?: string;
}

/**
 * Opens the station: in the desktop window where its runtime is there or can be had, else the very same station on
 * 127.0.0.1 for the browser, saying why in one line.
 */
export async function openStationCommand(options: OpenOptions): Promise<number> {
  const port = options.port === undefined ? undefined : wholeNumber('--port', options.port, 0, 65_535);
  if (!options.browser) {
    const window = await openWindow(options.data);
    if (window.opened) return window.status;
    console.log(`No window: ${window.why}. The same station is served for the browser instead.`);
  }

  const stopped = untilStopped();
  const folders = dataFolders(options.data);
  const station = openingStation({ folders, version: VERSION });
  const checking = new LiveLine('Checking the record');
  station.listen((news) => {
    if (news.kind !== 'work' || news.work !== OPEN_STATION) return;
    if (news.progress) checking.tell(news.progress);
    else checking.end();
  });
  const rendererFolder = join(import.meta.dirname, '../renderer');
  const door = await serveLoopback({ station, rendererFolder, ...(port === undefined ? {} : { port }) });
  console.log(`Reelohm is at ${door.address}`);
  console.log('Keep this running while you work; Ctrl-C ends it.');
  if (options.launch && canShowBrowser()) await launchBrowser(door.browserAddress());

  try {
    await Promise.race([stopped, station.opened.then(() => stopped)]);
  } finally {
    await door.close();
    await station.close();
  }
  return exitStatus.good;
}

/** A browser needs a screen; only on Linux and the like can that be missing. */
function canShowBrowser(): boolean {
  if (process.platform === 'win32' || process.platform === 'darwin') return true;
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}

async function launchBrowser(address: string): Promise<void> {
  const tell = () => console.log('The browser could not be started; open the address yourself.');
  try {
    (await open(address)).once('error', tell);
  } catch {
    tell();
  }
}
