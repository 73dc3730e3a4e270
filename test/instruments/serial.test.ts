import { spawnSync } from 'node:child_process';
import { chmodSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { SerialPort } from 'serialport';
import { describe, expect, it, onTestFinished } from 'vitest';
import { Session } from '../../instruments/scpi/session.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import type { Connection } from '../../instruments/transport/connection.ts';
import { Lines } from '../../instruments/transport/lines.ts';
import { openSerial } from '../../instruments/transport/serial.ts';
import { skipSaying } from '../skipSaying.ts';
import { openPtyPair, type PtyPair, socatIsHere } from './ptyPair.ts';
import { several, withRegister } from './scriptedInstrument.ts';

// Linux, linux/include/uapi/asm-generic/ioctls.h.
const TIOCVHANGUP = 0x5437;
const XOFF = '\u0013';
const XON = '\u0011';

async function pty(): Promise<PtyPair> {
  const pair = await openPtyPair();
  onTestFinished(() => pair.stop());
  return pair;
}

async function open(path: string, options = ''): Promise<Connection> {
  const address = readAddress(`${path}${options}`);
  if (address.kind !== 'serial') throw new Error('no serial port');
  const connection = await openSerial(address.path, address.settings, address.line);
  onTestFinished(() => connection.close());
  return connection;
}

/** The meter's end of the line. */
async function farEnd(path: string): Promise<SerialPort> {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((failure) => (failure ? reject(failure) : resolve())));
  onTestFinished(() => void (port.isOpen && port.close()));
  return port;
}

const unheard = { line: () => undefined, overlong: () => undefined, lost: () => undefined };

describe.skipIf(!socatIsHere())('a serial port', () => {
  it('that the system hangs up without a word is lost, and keeps no core busy', async (test) => {
    if (spawnSync('perl', ['-e', '1']).status !== 0)
      skipSaying(test, 'perl is not installed, nothing else can hang a port up');
    const { near } = await pty();
    const connection = await open(near);
    const lost = Promise.withResolvers<string>();
    new Lines(connection, { ...unheard, lost: lost.resolve });
    const script = 'open(PORT, "+<", $ARGV[0]) or die $!; ioctl(PORT, $ARGV[1], 0) or die $!';
    const hungUp = spawnSync('perl', ['-e', script, realpathSync(near), String(TIOCVHANGUP)]);
    if (hungUp.status !== 0) skipSaying(test, `this user may not hang a port up: ${hungUp.stderr}`);
    const began = performance.now();
    expect(await lost.promise).toContain('is gone');
    expect(performance.now() - began).toBeLessThan(2000);
    await connection.close();
    const before = process.cpuUsage();
    await new Promise((passed) => setTimeout(passed, 300));
    const { user, system } = process.cpuUsage(before);
    // While the package reads nothing over and over, this is the whole 300 ms.
    expect((user + system) / 1000).toBeLessThan(150);
  });

  it('that this user may not open is told from one that is busy or missing', async (test) => {
    const { near } = await pty();
    chmodSync(dirname(near), 0o755);
    chmodSync(realpathSync(near), 0o000);
    const script = `
      import { readAddress, openTransport } from ${JSON.stringify(join(import.meta.dirname, '../../instruments/transport/address.ts'))};
      openTransport(readAddress(process.argv[1])).catch((thrown) => console.log(thrown.code));`;
    // The root user may open everything, so another user tries.
    const user = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};
    const tried = spawnSync(process.execPath, ['--input-type=module', '-e', script, near], {
      ...user,
      encoding: 'utf8',
    });
    if (tried.status !== 0) skipSaying(test, `another user cannot run this: ${tried.stderr}`);
    expect(tried.stdout.trim()).toBe('port-forbidden');
  });

  it('with XON/XOFF sends nothing while the meter holds the line, and all of it after', async () => {
    const { near, far } = await pty();
    const meter = await farEnd(far);
    let heard = '';
    meter.on('data', (chunk: Buffer) => {
      heard += chunk.toString('latin1');
    });
    const lines = new Lines(await open(near, '?flow=xon'), unheard);
    await lines.write('A?');
    await expect.poll(() => heard).toBe('A?\n');
    await new Promise<void>((resolve) => meter.write(XOFF, () => meter.drain(() => resolve())));
    // The terminal driver acts on the byte a moment after it was sent.
    await new Promise((passed) => setTimeout(passed, 100));
    lines.send('B?');
    await new Promise((passed) => setTimeout(passed, 200));
    expect(heard).toBe('A?\n');
    meter.write(XON);
    await expect.poll(() => heard).toBe('A?\nB?\n');
  });

  it('whose meter wants CR LF and ends its answers with CR is understood', async () => {
    const { near, far } = await pty();
    const meter = await farEnd(far);
    const respond = withRegister(() => '+4.70000E+03');
    let rest = '';
    meter.on('data', (chunk: Buffer) => {
      const messages = (rest + chunk.toString('latin1')).split('\r\n');
      rest = messages.pop() ?? '';
      for (const message of messages) meter.write(`${respond(message)}\r`);
    });
    const connection = await open(near, '?baud=2400&out=crlf');
    // Start bit, 8 data bits, stop bit at 2400 baud.
    expect(connection.characterMilliseconds).toBeCloseTo(4.1667, 3);
    const session = new Session(connection, { random: Math.random, ways: several, onLost: () => undefined });
    expect(await session.ask(['READ?'], 1000)).toEqual(['+4.70000E+03']);
    await session.close();
  });

  it('with DTR/DSR is opened and sent to; a port without such lines holds nothing', async () => {
    const { near, far } = await pty();
    const meter = await farEnd(far);
    const heard = new Promise((resolve) => meter.once('data', (chunk: Buffer) => resolve(chunk.toString('latin1'))));
    const lines = new Lines(await open(near, '?flow=dtr'), unheard);
    await lines.write('A?');
    expect(await heard).toBe('A?\n');
  });
});
