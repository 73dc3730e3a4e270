import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { exitStatus } from './exitStatus.ts';

/** Either the window was opened and has been closed again with this status, or why there is none. */
export type WindowOutcome = { opened: true; status: number } | { opened: false; why: string };

const FETCH_MILLISECONDS = 10 * 60_000;

/**
 * Opens the station in its desktop window, in a process of Electron's own, and waits until it is closed.
 * The runtime is fetched once where it is missing and a screen is there to show it on.
 */
export async function openWindow(dataFolder?: string): Promise<WindowOutcome> {
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
    return { opened: false, why: 'this computer has no display' };
  }
  const runtime = findRuntime() ?? fetchRuntime();
  if (typeof runtime !== 'string') return { opened: false, why: runtime.why };
  return runWindow(runtime, dataFolder);
}

function electronFolder(): string | null {
  try {
    return dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return null;
  }
}

/** The Electron executable, by the same rules as the package's own index.js; null where it is not there yet. */
function findRuntime(): string | null {
  const folder = electronFolder();
  if (!folder) return null;
  const pathFile = join(folder, 'path.txt');
  const name = existsSync(pathFile) ? readFileSync(pathFile, 'utf8') : '';
  const dist = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  const file = dist ? join(dist, name || 'electron') : join(folder, 'dist', name);
  return (dist || name) && existsSync(file) ? file : null;
}

function fetchRuntime(): string | { why: string } {
  const folder = electronFolder();
  if (!folder) return { why: 'the electron package is not installed' };
  console.log("Fetching the window's runtime (once, about 120 MB) …");
  const fetched = spawnSync(process.execPath, [join(folder, 'install.js')], {
    encoding: 'utf8',
    timeout: FETCH_MILLISECONDS,
  });
  const found = fetched.status === 0 ? findRuntime() : null;
  return found ?? { why: `its runtime could not be fetched (${reasonIn(fetched.stderr)})` };
}

/** The one line of an error report that says something. */
function reasonIn(report: string | null): string {
  const line = (report ?? '').split('\n').find((text) => /error|failed/i.test(text));
  return line?.trim().replace(/^\w*Error: /, '') || 'no answer';
}

function runWindow(runtime: string, dataFolder?: string): Promise<WindowOutcome> {
  const program = join(import.meta.dirname, 'desktop.js');
  const data = dataFolder === undefined ? [] : [`--data=${dataFolder}`];
  return new Promise((resolve) => {
    let shown = false;
    const child = spawn(runtime, [program, ...data], { stdio: ['inherit', 'inherit', 'inherit', 'ipc'] });
    child.on('message', (message) => {
      if (message === 'ready') shown = true;
    });
    child.once('error', (failure) => resolve({ opened: false, why: failure.message }));
    child.once('exit', (status, signal) => {
      // Status 2 is the program's own: it has said what is wrong, and the browser would meet the same.
      if (shown || status === 0 || status === exitStatus.couldNot)
        resolve({ opened: true, status: status ?? exitStatus.couldNot });
      else resolve({ opened: false, why: `its runtime ended at once (${signal ?? `status ${status}`})` });
    });
  });
}
