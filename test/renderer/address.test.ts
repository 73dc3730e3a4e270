import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readAddress } from '../../instruments/transport/address.ts';
import { usualLineSettings } from '../../instruments/transport/lineSettings.ts';
import { usualSerialSettings } from '../../instruments/transport/serial.ts';
import {
  kindOf,
  type SettingName,
  settingOf,
  USUAL_SETTINGS,
  whereOf,
  withSetting,
} from '../../renderer/ready/address.ts';

const VALUES: Record<SettingName, readonly string[]> = {
  baud: ['300', '9600', '19200', '115200'],
  bits: ['7', '8'],
  parity: ['none', 'even', 'odd'],
  stop: ['1', '2'],
  flow: ['none', 'rts', 'xon', 'dtr'],
  out: ['lf', 'cr', 'crlf'],
  in: ['any', 'lf', 'cr', 'crlf'],
  echo: ['auto', 'on', 'off'],
  delay: ['0', '20'],
  longest: ['', '80'],
  dialect: ['scpi', 'one-command'],
};
const NAMES = Object.keys(VALUES) as SettingName[];
const change = fc.constantFrom(...NAMES).chain((name) => fc.tuple(fc.constant(name), fc.constantFrom(...VALUES[name])));

/** What the station makes of an address, under the names of the screen. */
function asStationReads(address: string): Record<SettingName, string> {
  const read = readAddress(address);
  if (read.kind !== 'serial') throw new Error(read.kind);
  const { line, settings, dialect } = read;
  return {
    baud: String(settings.baudRate),
    bits: String(settings.dataBits),
    parity: settings.parity,
    stop: String(settings.stopBits),
    flow: settings.flow,
    out: line.out,
    in: line.in,
    echo: line.echo,
    delay: String(line.delayMilliseconds),
    longest: line.longestCommand === null ? '' : String(line.longestCommand),
    dialect: dialect ?? USUAL_SETTINGS.dialect,
  };
}

describe('the settings in an address', () => {
  it('are read by the station as the screen shows them, whatever was set in whatever order', () => {
    fc.assert(
      fc.property(fc.array(change, { maxLength: 30 }), (changes) => {
        const wanted: Record<string, string> = { ...USUAL_SETTINGS };
        let address = '/dev/ttyUSB0';
        for (const [name, value] of changes) {
          wanted[name] = value;
          address = withSetting(address, name, value);
        }
        expect(asStationReads(address)).toEqual(wanted);
        for (const name of NAMES) expect(settingOf(address, name)).toBe(wanted[name]);
      }),
    );
  });

  it('are left out where they are usual, as the station has them', () => {
    expect(withSetting('COM3?baud=19200', 'baud', '9600')).toBe('COM3');
    expect(asStationReads('COM3')).toEqual(USUAL_SETTINGS);
    expect(usualSerialSettings.baudRate).toBe(Number(USUAL_SETTINGS.baud));
    expect(usualLineSettings.out).toBe(USUAL_SETTINGS.out);
  });

  it('leave what else was typed as it is, known or not', () => {
    expect(withSetting(' tcp://192.0.2.7:5025?in=cr&colour=blue ', 'out', 'crlf')).toBe(
      'tcp://192.0.2.7:5025?in=cr&colour=blue&out=crlf',
    );
    expect(withSetting('/dev/ttyS0?baud=fast', 'parity', 'even')).toBe('/dev/ttyS0?baud=fast&parity=even');
    expect(settingOf('/dev/ttyS0?baud=fast', 'baud')).toBe('fast');
  });
});

it('tells by its beginning where an address leads', () => {
  expect(['sim:7', 'tcp://h:1', '/dev/ttyS0?baud=300', 'COM3', ' '].map(kindOf)).toEqual([
    'sim',
    'tcp',
    'serial',
    'serial',
    'none',
  ]);
  expect(whereOf(' /dev/ttyS0?baud=300 ')).toBe('/dev/ttyS0');
});
