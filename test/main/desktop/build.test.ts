import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { runInNewContext } from 'node:vm';
import { parseSync } from 'oxc-parser';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { News } from '../../../core/contract/contract.ts';
import { ASK, NEWS } from '../../../main/desktop/channels.ts';
import { readPageFiles } from '../../../main/station/pageFiles.ts';
import { VERSION } from '../../../main/version.ts';

const run = promisify(execFile);
const root = join(import.meta.dirname, '../../..');
// Inside the project, so that the built programs find their packages.
const builds = join(root, 'test-results');
let out = '';

beforeAll(async () => {
  mkdirSync(builds, { recursive: true });
  out = mkdtempSync(join(builds, 'build-'));
  const tool = join(root, 'node_modules/electron-vite/bin/electron-vite.js');
  await run(process.execPath, [tool, 'build', '--outDir', out, '--logLevel', 'warn'], { cwd: root });
}, 120_000);

afterAll(() => rmSync(out, { recursive: true, force: true }));

test('main becomes the two programs and a thread for long work, its native packages stay outside', () => {
  const files = readdirSync(join(out, 'main'));
  expect(files).toEqual(expect.arrayContaining(['desktop.js', 'command.js', 'thread.js']));
  // No folder beside them: modules find the rest of dist/ from their own place.
  expect(files.filter((name) => !name.endsWith('.js'))).toEqual([]);
  const imports = new Set<string>();
  for (const name of files) {
    const text = readFileSync(join(out, 'main', name), 'utf8');
    for (const { moduleRequest } of parseSync(name, text).module.staticImports) imports.add(moduleRequest.value);
  }
  const packages = [...imports].filter((from) => !from.startsWith('.') && !from.startsWith('node:'));
  expect(packages.filter((from) => !isBuiltin(from)).sort()).toEqual(
    ['@serialport/parser-readline', 'better-sqlite3', 'electron', 'open', 'serialport', 'ws'].sort(),
  );
});

test('the built command line runs on plain Node', async () => {
  const { stdout } = await run(process.execPath, [join(out, 'main/command.js'), '--version']);
  expect(stdout).toBe(`${VERSION}\n`);
});

test('the preload script is one CommonJS file that asks for Electron only, and shows the page two functions', async () => {
  expect(readdirSync(join(out, 'preload'))).toEqual(['preload.cjs']);
  const text = readFileSync(join(out, 'preload/preload.cjs'), 'utf8');
  expect([...text.matchAll(/require\(\s*["'`](.*?)["'`]\s*\)/g)].map(([, name]) => name)).toEqual(['electron']);

  // Played in a context that has what a sandboxed preload script has.
  const shown: Record<string, never> = {};
  const ipcRenderer = { invoke: vi.fn(), on: vi.fn(), removeListener: vi.fn() };
  const contextBridge = {
    exposeInMainWorld(name: string, value: never) {
      shown[name] = value;
    },
  };
  runInNewContext(text, { require: () => ({ contextBridge, ipcRenderer }), exports: {}, module: { exports: {} } });
  expect(Object.keys(shown)).toEqual(['reelohm']);
  const bridge = shown.reelohm as unknown as {
    ask(name: string, question: unknown): Promise<unknown>;
    listen(hear: (news: News) => void): () => void;
  };
  expect(Object.keys(bridge).sort()).toEqual(['ask', 'listen']);

  ipcRenderer.invoke.mockResolvedValue('told');
  expect(await bridge.ask('overview', {})).toBe('told');
  await bridge.ask('take-reading', { run: 1 });
  expect(ipcRenderer.invoke.mock.calls).toEqual([
    [ASK, { id: 1, name: 'overview', question: {} }],
    [ASK, { id: 2, name: 'take-reading', question: { run: 1 } }],
  ]);

  const hear = vi.fn();
  const stop = bridge.listen(hear);
  const [channel, listener] = ipcRenderer.on.mock.calls[0] as [string, (event: object, news: News) => void];
  const news: News = { kind: 'link', link: { state: 'none' } };
  listener({ sender: 'the IPC event' }, news);
  expect(channel).toBe(NEWS);
  // The news alone: the event would hand the page a way to everything.
  expect(hear.mock.calls).toEqual([[news]]);
  stop();
  expect(ipcRenderer.removeListener.mock.calls).toEqual([[NEWS, listener]]);
});

test('the screen is built as its policy wants it: nothing inline, minified, all of it of a kind that is served', () => {
  const folder = join(out, 'renderer');
  const served = readPageFiles(folder);
  const page = served.get('/')?.body.toString() ?? '';
  expect(page).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son\w+=|javascript:/i);
  for (const [, path] of page.matchAll(/(?:src|href)="\.?([^"]+)"/g))
    expect([path, served.has(path as string)]).toEqual([path, true]);
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => /\.\w+$/.test(name));
  expect(names.filter((name) => !served.has(`/${name.replaceAll('\\', '/')}`))).toEqual([]);
  for (const [path, { body }] of served) {
    const text = body.toString();
    if (path.endsWith('.css')) expect([path, text.match(/url\(["']?data:(?!image)/)]).toEqual([path, null]);
    // Minified lines are long; a small file has one or two.
    if (path.endsWith('.js')) expect([path, text.split('\n').length < 3 + body.length / 200]).toEqual([path, true]);
  }
});
