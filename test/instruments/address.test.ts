import { describe, expect, it } from 'vitest';
import { readAddress } from '../../instruments/transport/address.ts';
import { usualSerialSettings } from '../../instruments/transport/serial.ts';

describe("a meter's address", () => {
  it.each([
    ['sim:', { kind: 'sim', seed: null }],
    ['sim:42', { kind: 'sim', seed: 42 }],
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
      { kind: 'serial', path: 'COM1', settings: { baudRate: 2400, dataBits: 7, parity: 'even', stopBits: 2 } },
    ],
  ])('reads %s', (text, address) => {
    expect(readAddress(text)).toEqual(address);
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
  ])('refuses %j', (text) => {
    expect(() => readAddress(text)).toThrow(expect.objectContaining({ code: 'address-unreadable' }));
  });
});
