import { describe, expect, it } from 'vitest';
import { readAddress } from '../../instruments/transport/address.ts';
import { usualLineSettings } from '../../instruments/transport/lineSettings.ts';
import { usualSerialSettings } from '../../instruments/transport/serial.ts';

const usualSim = { kind: 'sim', reel: 'usual', stress: null };

describe("a meter's address", () => {
  it.each([
    ['sim:', { ...usualSim, seed: null }],
    ['sim:42', { ...usualSim, seed: 42 }],
    ['tcp://127.0.0.1:5025', { kind: 'tcp', host: '127.0.0.1', port: 5025 }],
    ['tcp://meter.lab.example:5025/', { kind: 'tcp', host: 'meter.lab.example', port: 5025 }],
    ['tcp://[::1]:5025', { kind: 'tcp', host: '::1', port: 5025 }],
    ['/dev/ttyUSB0', { kind: 'serial', path: '/dev/ttyUSB0', settings: usualSerialSettings }],
    ['COM12', { kind: 'serial', path: 'COM12', settings: usualSerialSettings }],
    ['\\\\.\\COM12', { kind: 'serial', path: '\\\\.\\COM12', settings: usualSerialSettings }],
    [
      '/dev/ttyS0?baud=115200',
      { kind: 'serial', path: '/dev/ttyS0', settings: { ...usualSerialSettings, baudRate: 115200 } },
    ],
    [
      'COM1?baud=2400&bits=7&parity=even&stop=2',
      {
        kind: 'serial',
        path: 'COM1',
        settings: { baudRate: 2400, dataBits: 7, parity: 'even', stopBits: 2, flow: 'none' },
      },
    ],
    [
      'COM1?flow=dtr&out=crlf&in=cr&echo=on&delay=20&longest=80&dialect=one-command',
      {
        kind: 'serial',
        path: 'COM1',
        settings: { ...usualSerialSettings, flow: 'dtr' },
        line: { out: 'crlf', in: 'cr', echo: 'on', delayMilliseconds: 20, longestCommand: 80 },
        dialect: 'one-command',
      },
    ],
    [
      'tcp://127.0.0.1:5025?out=cr&dialect=needs-remote',
      {
        kind: 'tcp',
        host: '127.0.0.1',
        port: 5025,
        line: { ...usualLineSettings, out: 'cr' },
        dialect: 'needs-remote',
      },
    ],
    ['sim:3?dialect=talker', { ...usualSim, seed: 3, dialect: 'talker' }],
    ['sim:?reel=drifting', { ...usualSim, seed: null, reel: 'drifting' }],
    ['sim:7?reel=mixed&stressed=solder', { ...usualSim, seed: 7, reel: 'mixed', stress: 'solder' }],
  ])('reads %s', (text, address) => {
    expect(readAddress(text)).toEqual({ line: usualLineSettings, dialect: null, ...address });
  });

  it.each([
    '',
    'meter',
    'sim',
    'sim:x',
    'sim:-1',
    'tcp://host',
    'tcp://host:0',
    'tcp://host:65536',
    'tcp://:5025',
    'tcp://host:5025/path',
    'http://host:5025',
    '/dev/ttyUSB0?baud=fast',
    '/dev/ttyUSB0?speed=9600',
    '/dev/tty USB0',
    '/dev/ttyUSB0?flow=maybe',
    '/dev/ttyUSB0?out=none',
    '/dev/ttyUSB0?delay=99999',
    '/dev/ttyUSB0?longest=1',
    '/dev/ttyUSB0?dialect=../x',
    '/dev/ttyUSB0?toString=1',
    'tcp://host:5025?baud=9600',
    'sim:1?baud=9600',
    'sim:1?reel=square',
    'sim:1?stressed=none',
    'tcp://host:5025?reel=sorted',
    '/dev/ttyUSB0?stressed=heat',
  ])('refuses %j', (text) => {
    expect(() => readAddress(text)).toThrow(expect.objectContaining({ code: 'address-unreadable' }));
  });
});
