import { readFileSync } from 'node:fs';
import type { RunForCapture } from '../../../core/capture/setting.ts';
import type { MeterSettingFound } from '../../../instruments/meter/meter.ts';
import type { StreamReading } from './circuit.ts';

/** What stands above a recorded stream: the job it was recorded in. */
export interface RecordedHead {
  nominal: string;
  lower: string;
  upper: string;
  setting: MeterSettingFound;
  /** What is written on the reference, and what it read. */
  reference: { ohms: string; measured: string[] };
  /** What the tips read against each other. */
  shorted: string;
  /** True values of the pieces in their order, without leads; null for an open one. */
  pieces: (number | null)[];
}

/** The readings of a file in the form of a recording: seconds and ohms, or `overload`. */
export function readingsIn(file: URL): StreamReading[] {
  return linesOf(file)
    .filter((line) => !line.startsWith('#'))
    .map((line) => {
      const [seconds, ohms] = line.split(',');
      return { atMilliseconds: Number(seconds) * 1000, ohms: ohms === 'overload' ? null : Number(ohms) };
    });
}

/** What stands in its second line. */
export function headOf(file: URL): RecordedHead {
  return JSON.parse((linesOf(file)[1] ?? '').slice(1)) as RecordedHead;
}

function linesOf(file: URL): string[] {
  return readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line !== '');
}

/** The run as it was then: its window, its meter, its reference. */
export function runOfHead({ nominal, lower, upper, setting, reference, shorted }: RecordedHead): RunForCapture {
  const read = reference.measured.map(Number);
  const mean = read.reduce((sum, ohms) => sum + ohms, 0) / read.length;
  const squares = read.reduce((sum, ohms) => sum + (ohms - mean) ** 2, 0);
  const digit = Math.min(...reference.measured.map(lastDigitOf));
  return {
    window: { nominal, lower, upper },
    meter: {
      address: '',
      identity: { maker: '', model: '', serial: '', firmware: '', text: '', simulated: true },
      setting,
      dialect: 'scpi',
      setByHand: false,
      measures: ['2-wire'],
      data: null,
    },
    scatter: { squares, degreesOfFreedom: read.length - 1, atOhms: reference.ohms },
    reference: {
      afterReading: 0,
      at: '2026-01-05T08:00:00.000Z',
      name: 'R',
      ohms: reference.ohms,
      uncertaintyOhms: '0',
      measuredOhms: reference.measured,
      resolutionOhms: String(digit),
      passed: true,
      en: null,
    },
    shortedOhms: shorted,
  };
}

/** What the last digit of a number in NR3 is worth. */
function lastDigitOf(raw: string): number {
  const [, fraction = '', exponent = '0'] = /\.(\d*)E([+-]\d+)$/.exec(raw) ?? [];
  return 10 ** (Number(exponent) - fraction.length);
}
