import { SerialPort } from 'serialport';
import { afterEach, beforeEach, describe, expect, it, onTestFinished, vi } from 'vitest';
import { usualLineSettings } from '../../instruments/transport/lineSettings.ts';
import { isPortPresent, openSerial, usualSerialSettings } from '../../instruments/transport/serial.ts';
import { openPtyPair, socatIsHere } from './ptyPair.ts';

// On Windows the serialport package has a handle of the system where others have a file descriptor, and that is never a
// terminal to Node (@serialport/bindings-cpp, win32.js).
vi.mock('node:tty', async (original) => ({ ...(await original<typeof import('node:tty')>()), isatty: () => false }));

const here = process.platform;

/** What of Windows can be shown elsewhere: which questions are asked of the system there, and what is made of the answers. */
describe('a serial port on Windows', () => {
  beforeEach(() => void Object.defineProperty(process, 'platform', { value: 'win32' }));
  afterEach(() => {
    Object.defineProperty(process, 'platform', { value: here });
    vi.restoreAllMocks();
  });

  const listing = (...paths: string[]) =>
    vi.spyOn(SerialPort, 'list').mockResolvedValue(paths.map((path) => ({ path }) as never));

  it.each(['COM3', 'com3', '\\\\.\\COM3'])('is there by any of its names (%s)', async (path) => {
    listing('COM1', 'COM3');
    expect(await isPortPresent(path)).toBe(true);
    listing('COM1', 'COM30');
    expect(await isPortPresent(path)).toBe(false);
  });

  it('is not taken for gone where the system cannot list its ports', async () => {
    vi.spyOn(SerialPort, 'list').mockRejectedValue(new Error('no list'));
    expect(await isPortPresent('COM3')).toBe(true);
  });

  it.skipIf(!socatIsHere())('stays open, although it is no terminal', async () => {
    const pair = await openPtyPair();
    onTestFinished(() => pair.stop());
    const list = listing(pair.near);
    const connection = await openSerial(pair.near, usualSerialSettings, usualLineSettings);
    onTestFinished(() => connection.close());
    connection.duplex.on('error', () => undefined);
    await expect.poll(() => list.mock.calls.length, { timeout: 3000 }).toBeGreaterThan(1);
    expect(connection.duplex.destroyed).toBe(false);
  });
});
