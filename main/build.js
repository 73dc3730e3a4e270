// Plain JavaScript, because it runs before anything is built.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const STAMP = join(ROOT, 'dist', 'built');
const SOURCES = [
  'core',
  'instruments',
  'main',
  'renderer',
  'package.json',
  'package-lock.json',
  'electron.vite.config.ts',
];

/** Builds the program when a source is newer than what was built last. Throws with the builder's words when that fails. */
export function buildIfStale() {
  const started = Date.now();
  if (existsSync(STAMP) && newest() <= statSync(STAMP).mtimeMs) return;
  process.stderr.write('Building the station (only after a change) …\n');
  const builder = join(ROOT, 'node_modules', 'electron-vite', 'bin', 'electron-vite.js');
  const built = spawnSync(process.execPath, [builder, 'build', '--logLevel', 'warn'], { cwd: ROOT, encoding: 'utf8' });
  if (built.status !== 0) throw new Error(`the build failed:\n${built.stdout}${built.stderr}`);
  writeFileSync(STAMP, `${new Date(started).toISOString()}\n`);
}

function newest() {
  return Math.max(...SOURCES.map((name) => newestBelow(join(ROOT, name))));
}

/** @param {string} path */
function newestBelow(path) {
  const found = statSync(path, { throwIfNoEntry: false });
  if (!found) return 0;
  if (!found.isDirectory()) return found.mtimeMs;
  return Math.max(found.mtimeMs, ...readdirSync(path).map((name) => newestBelow(join(path, name))));
}
