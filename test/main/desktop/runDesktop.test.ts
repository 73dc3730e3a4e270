import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { News } from '../../../core/contract/contract.ts';
import { problem } from '../../../core/problem/problem.ts';
import { ASK, NEWS } from '../../../main/desktop/channels.ts';
import { runDesktop } from '../../../main/desktop/runDesktop.ts';
import type { OpeningStation } from '../../../main/station/openingStation.ts';
import * as electron from './electronStandIn.ts';

vi.mock('electron', () => import('./electronStandIn.ts'));

const OUTSIDE = 'must never be served';
const PRELOAD = '/built/preload.cjs';
const news: News = { kind: 'link', link: { state: 'none' } };
let folder = '';
let stationEvents: string[] = [];
let hear: ((news: News) => void) | undefined;

beforeEach(() => {
  electron.restart();
  stationEvents = [];
  hear = undefined;
  folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  mkdirSync(join(folder, 'screen', 'assets'), { recursive: true });
  writeFileSync(join(folder, 'screen', 'index.html'), '<!doctype html><title>Screen</title>');
  writeFileSync(join(folder, 'screen', 'assets', 'screen-a1b2.js'), 'export {};');
  writeFileSync(join(folder, 'secret.js'), OUTSIDE);
});

afterEach(() => {
  vi.restoreAllMocks();
  delete process.send;
  rmSync(folder, { recursive: true });
});

const station = {
  opened: Promise.resolve(),
  ask: async (name: string, question: unknown) => ({ name, question }),
  listen(hearing: (news: News) => void) {
    hear = hearing;
    return () => {
      hear = undefined;
    };
  },
  async close() {
    stationEvents.push('closed');
  },
} as unknown as OpeningStation;

async function start(more: Partial<Parameters<typeof runDesktop>[0]> = {}) {
  await runDesktop({
    dataFolder: join(folder, 'data'),
    openStation: () => station,
    rendererFolder: join(folder, 'screen'),
    preload: PRELOAD,
    ...more,
  });
  return electron.BrowserWindow.all[0] as electron.BrowserWindow;
}

test('the window is isolated, sandboxed and without Node', async () => {
  const window = await start();
  expect(window.options.webPreferences).toEqual({
    preload: PRELOAD,
    contextIsolation: true,
    sandbox: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    webviewTag: false,
    navigateOnDragDrop: false,
    spellcheck: false,
  });
  expect(electron.BrowserWindow.all).toHaveLength(1);
});

test('the scheme is made known before Electron is ready, and everything is guarded before the page loads', async () => {
  const sent: unknown[] = [];
  process.send = (message: unknown) => sent.push([...electron.calls, message]) > 0;
  await start();
  expect(electron.calls).toEqual(['lock', 'privileged', 'ready', 'protocol', 'window', 'load app://station/', 'show']);
  expect(electron.protocol.privileged).toEqual([
    { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ]);
  // The parent hears of it after the window is there.
  expect(sent).toEqual([[...electron.calls, 'ready']]);
});

test.each(['will-navigate', 'will-frame-navigate', 'will-redirect'])('%s leads nowhere else', async (name) => {
  const { webContents } = await start();
  const leads = (url: string): boolean => {
    const event = electron.preventable({ url });
    webContents.emit(name, event);
    return !event.prevented;
  };
  expect(leads('app://station/')).toBe(true);
  expect(leads('app://station/index.html?run=3#measure')).toBe(true);
  for (const url of [
    'https://station/',
    'app://station.evil.example/',
    'app://evil.example/station/',
    'app://user@station/',
    'app://station:8080/',
    'file:///etc/passwd',
    'javascript:alert(1)',
    'data:text/html,<p>',
    'about:blank',
    'no address',
  ]) {
    expect([url, leads(url)]).toEqual([url, false]);
  }
});

test('no second window and no webview', async () => {
  const { webContents } = await start();
  expect(webContents.openHandler?.({ url: 'app://station/' })).toEqual({ action: 'deny' });
  const event = electron.preventable();
  webContents.emit('will-attach-webview', event, {}, {});
  expect(event.prevented).toBe(true);
});

test('contents that come about later are guarded as well', async () => {
  await start();
  const later = new electron.StandInContents();
  electron.app.emit('web-contents-created', {}, later);
  const event = electron.preventable({ url: 'https://evil.example/' });
  later.emit('will-navigate', event);
  expect([event.prevented, later.openHandler?.({ url: 'x' }).action]).toEqual([true, 'deny']);
});

test('every permission but writing to the clipboard is refused, devices too, and the network is cut off', async () => {
  await start();
  const { permissionRequest, permissionCheck, devicePermission, beforeRequest } = electron.session.defaultSession;
  const ask = (permission: string, requestingUrl: string): unknown[] => {
    const granted = vi.fn();
    permissionRequest?.({}, permission, granted, { requestingUrl });
    return [...granted.mock.calls.flat(), permissionCheck?.(null, permission, requestingUrl, {})];
  };
  const refused = [
    'serial',
    'usb',
    'media',
    'notifications',
    'fullscreen',
    'openExternal',
    'clipboard-read',
    'unknown',
  ];
  for (const permission of refused) expect(ask(permission, 'app://station/')).toEqual([false, false]);
  // A picture of a chart is copied: by our own page only.
  expect(ask('clipboard-sanitized-write', 'app://station/')).toEqual([true, true]);
  for (const address of ['https://evil.example/', 'app://station.example/', '', 'app://user@station/']) {
    expect(ask('clipboard-sanitized-write', address)).toEqual([false, false]);
  }
  expect(devicePermission?.({ deviceType: 'serial' })).toBe(false);
  const [filter, cancel] = beforeRequest as [
    { urls: string[] },
    (details: object, answer: (with_: object) => void) => void,
  ];
  expect(filter.urls).toEqual(['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*', 'file:///*']);
  const answered = vi.fn();
  cancel({}, answered);
  expect(answered.mock.calls).toEqual([[{ cancel: true }]]);
});

test("the page's own protocol serves the screen under the policy, and nothing outside it", async () => {
  await start();
  const serve = electron.protocol.handlers.get('app');
  const fetchPage = async (url: string, method = 'GET'): Promise<Response> => {
    // The stand-in for Electron's request: Node's Request would tidy the address up before the door sees it.
    const response = await serve?.({ url, method } as Request);
    if (!response) throw new Error('the scheme is not handled');
    return response;
  };
  for (const [url, type] of [
    ['app://station/', 'text/html; charset=utf-8'],
    ['app://station/index.html?x=1', 'text/html; charset=utf-8'],
    ['app://station/assets/screen-a1b2.js', 'text/javascript; charset=utf-8'],
  ] as const) {
    const page = await fetchPage(url);
    expect([url, page.status, page.headers.get('content-type')]).toEqual([url, 200, type]);
    expect(page.headers.get('content-security-policy')).toBe(
      "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data: blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    );
    expect(page.headers.get('x-content-type-options')).toBe('nosniff');
  }
  expect(await (await fetchPage('app://station/')).text()).toContain('<title>Screen</title>');
  for (const url of [
    'app://station/../secret.js',
    'app://station/..%2fsecret.js',
    'app://station/%2e%2e/secret.js',
    'app://station/%2e%2e%2fsecret.js',
    'app://station/..\\secret.js',
    'app://station/..%5csecret.js',
    'app://station/assets/../../secret.js',
    `app://station/${join(folder, 'secret.js')}`,
    'app://station/assets',
    'app://elsewhere/index.html',
    'app://station@elsewhere/index.html',
    'app:index.html',
    'no address',
  ]) {
    const page = await fetchPage(url);
    expect([url, page.status]).toEqual([url, 404]);
    expect(await page.text()).not.toContain(OUTSIDE);
  }
  expect((await fetchPage('app://station/', 'POST')).status).toBe(404);
});

test('only the main frame of our own page in our own window is answered', async () => {
  const { webContents } = await start();
  const ask = electron.ipcMain.handlers.get(ASK);
  const message = { id: 1, name: 'overview', question: {} };
  const ourFrame = { url: 'app://station/', parent: null };
  expect(await ask?.({ sender: webContents, senderFrame: ourFrame }, message)).toEqual({
    id: 1,
    answer: { name: 'overview', question: {} },
  });
  const hostile = {
    'a foreign page': { sender: webContents, senderFrame: { url: 'https://evil.example/', parent: null } },
    'a page that begins alike': { sender: webContents, senderFrame: { url: 'app://station.evil/', parent: null } },
    'a blank page': { sender: webContents, senderFrame: { url: 'about:blank', parent: null } },
    'a frame in our page': { sender: webContents, senderFrame: { url: 'app://station/', parent: ourFrame } },
    'a frame that is gone': { sender: webContents, senderFrame: null },
    'another window': { sender: new electron.StandInContents(), senderFrame: ourFrame },
  };
  for (const [who, event] of Object.entries(hostile)) {
    expect(() => ask?.(event, message), who).toThrow('Refused');
  }
});

test('what our page asks is validated all the same', async () => {
  const { webContents } = await start();
  const event = { sender: webContents, senderFrame: { url: 'app://station/', parent: null } };
  const ask = electron.ipcMain.handlers.get(ASK);
  for (const message of [undefined, 'overview', { id: 2, name: 'constructor', question: {} }]) {
    expect(await ask?.(event, message)).toMatchObject({ problem: { code: 'input-invalid' } });
  }
});

test('news goes to the window while it is there', async () => {
  const { webContents } = await start();
  hear?.(news);
  expect(webContents.sent).toEqual([[NEWS, news]]);
  webContents.destroyed = true;
  hear?.(news);
  expect(webContents.sent).toHaveLength(1);
});

test('closing the window closes the door and the station, then ends the program', async () => {
  await start();
  const ended = once(electron.app, 'stand-in-exit');
  electron.app.emit('window-all-closed');
  expect(electron.app.exitStatus).toBeUndefined();
  // Being asked again meanwhile changes nothing.
  electron.app.quit();
  await ended;
  expect([electron.app.exitStatus, stationEvents]).toEqual([0, ['closed']]);
  expect([hear, electron.ipcMain.handlers.size]).toEqual([undefined, 0]);
});

test('a meter that does not let go cannot keep the program from ending', async () => {
  const stuck = { ...station, close: () => new Promise(() => {}) } as unknown as OpeningStation;
  await start({ openStation: () => stuck, closeMilliseconds: 20 });
  const ended = once(electron.app, 'stand-in-exit');
  electron.app.quit();
  await ended;
  expect(electron.app.exitStatus).toBe(0);
});

test('a record that turns out to be altered is said and ends the program; a window that is closed before ends it in order', async () => {
  const stderr = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  const altered = { ...station, opened: Promise.reject(problem('record-altered', 7)) } as unknown as OpeningStation;
  await start({ openStation: () => altered });
  await vi.waitFor(() => expect(electron.app.exitStatus).toBe(2));
  expect(stderr.mock.calls.flat().join('')).toContain('[record-altered]');

  electron.restart();
  stderr.mockClear();
  let stop: ((why: unknown) => void) | undefined;
  const opened = new Promise((_resolve, reject) => {
    stop = reject;
  });
  const slow = { ...station, opened, close: async () => stop?.(problem('work-stopped')) } as unknown as OpeningStation;
  await start({ openStation: () => slow });
  const ended = once(electron.app, 'stand-in-exit');
  electron.app.quit();
  await ended;
  expect([electron.app.exitStatus, stderr.mock.calls]).toEqual([0, []]);
});

test('a station that closes badly is a status, not a silence', async () => {
  const stderr = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  const full = {
    ...station,
    close: () => Promise.reject(problem('record-full', 'no space')),
  } as unknown as OpeningStation;
  await start({ openStation: () => full });
  const ended = once(electron.app, 'stand-in-exit');
  electron.app.quit();
  await ended;
  expect(electron.app.exitStatus).toBe(2);
  expect(stderr.mock.calls.flat().join('')).toContain('[record-full]');
});

test('one window for a record: the second start only brings the first to the front', async () => {
  electron.app.hasLock = false;
  await start({ openStation: () => expect.unreachable('no second station') });
  expect(electron.BrowserWindow.all).toEqual([]);
  expect([electron.app.exitStatus, electron.dialog.boxes]).toEqual([0, []]);

  electron.restart();
  const window = await start();
  expect(electron.app.paths.userData).toBe(join(folder, 'data', 'window'));
  expect(existsSync(join(folder, 'data', 'window'))).toBe(true);
  window.minimized = true;
  electron.calls.length = 0;
  electron.app.emit('second-instance');
  expect(electron.calls).toEqual(['restore', 'show', 'focus']);
});

test.each([
  ['from a terminal, in the terminal', true],
  ['from the desktop, in a box too', false],
])('a station that cannot open says why: %s', async (_where, hasParent) => {
  const stderr = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  const sent: unknown[] = [];
  if (hasParent) process.send = (message: unknown) => sent.push(message) > 0;
  const inUse = problem('record-in-use', 'record.sqlite');
  await start({
    openStation: () => {
      throw inUse;
    },
  });
  expect(stderr.mock.calls.flat()).toEqual([`${inUse.message}\n`]);
  expect(electron.dialog.boxes).toEqual(hasParent ? [] : [[inUse.what, inUse.toDo]]);
  expect([electron.app.exitStatus, sent, electron.BrowserWindow.all]).toEqual([2, [], []]);
});

test('a data folder that cannot be made, or a screen that was not built, is said as well', async () => {
  const stderr = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  await start({ dataFolder: join(folder, 'secret.js') });
  await start({ rendererFolder: join(folder, 'nothing') });
  expect(stderr.mock.calls.flat().map((line) => /\[(.*)\]\n$/.exec(String(line))?.[1])).toEqual([
    'record-unusable',
    'file-unreadable',
  ]);
});
