import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { app, dialog, protocol, session } from 'electron';
import { asProblem, problem, wordsOf } from '../../core/problem/problem.ts';
import type { OpeningStation } from '../station/openingStation.ts';
import { readPageFiles } from '../station/pageFiles.ts';
import { registerAppScheme, serveApp } from './appProtocol.ts';
import { hardenContents, hardenSession } from './hardening.ts';
import { openIpcDoor } from './ipcDoor.ts';
import { bringToFront, createWindow, showWindow } from './window.ts';

export interface DesktopOptions {
  /** Folder of the record; the window keeps its own things in a folder below, so there is one window per record. */
  dataFolder: string;
  openStation(): OpeningStation;
  /** Folder of the built screen. */
  rendererFolder: string;
  /** File of the built preload script. */
  preload: string;
  /** How long the meter and the record may take to close before the program ends without them. */
  closeMilliseconds?: number;
}

/**
 * The desktop program from start to end. Says `ready` to a parent process once the window shows. Quitting lets the
 * meter go and closes the record. A second start on the same record brings the first one's window to the front.
 */
export async function runDesktop(options: DesktopOptions): Promise<void> {
  try {
    app.setName('Reelohm');
    app.setPath('userData', makeFolder(join(options.dataFolder, 'window')));
    if (!app.requestSingleInstanceLock()) return app.quit();
    registerAppScheme();
    app.on('web-contents-created', (_event, contents) => hardenContents(contents));
    await app.whenReady();

    hardenSession(session.defaultSession);
    serveApp(protocol, readPageFiles(options.rendererFolder));
    const station = options.openStation();
    let ending = false;
    // Whoever closes the window while the record is checked wants it to end.
    station.opened.catch((thrown) => ending || fail(thrown));
    const window = createWindow(options.preload);
    const closeDoor = openIpcDoor(station, window.webContents);
    app.on('second-instance', () => bringToFront(window));
    // Also on macOS: an open meter nobody sees is no use to anybody.
    app.on('window-all-closed', () => app.quit());
    app.on('will-quit', (event) => {
      event.preventDefault();
      closeDoor();
      if (!ending) void end(station, options.closeMilliseconds ?? 5_000);
      ending = true;
    });
    await showWindow(window);
    process.send?.('ready');
  } catch (thrown) {
    fail(thrown);
  }
}

function makeFolder(folder: string): string {
  try {
    mkdirSync(folder, { recursive: true });
  } catch (thrown) {
    throw problem('record-unusable', folder, wordsOf(thrown));
  }
  return folder;
}

/** Closes the station, then ends the program; `app.exit` asks nobody again. */
async function end(station: OpeningStation, milliseconds: number): Promise<void> {
  try {
    await Promise.race([station.close(), wait(milliseconds)]);
    app.exit(0);
  } catch (thrown) {
    fail(thrown);
  }
}

/** Says what went wrong where it can be read: in the terminal, and in a box for those who started without one. */
function fail(thrown: unknown): void {
  const found = asProblem(thrown);
  process.stderr.write(`${found.message}\n`);
  if (!process.send) dialog.showErrorBox(found.what, found.toDo);
  app.exit(2);
}
