import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { StreamReading } from './circuit.ts';
import { KINDS, type Kind } from './kinds.ts';
import { play } from './play.ts';
import { settingForKind } from './settingForKind.ts';

/** Each file is in the form of a recording, but invented, as its first line says. */
function readingsIn(file: string): StreamReading[] {
  const text = readFileSync(new URL(`recorded/${file}.txt`, import.meta.url), 'utf8');
  return text
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => {
      const [seconds, ohms] = line.split(',');
      return { atMilliseconds: Number(seconds) * 1000, ohms: ohms === 'overload' ? null : Number(ohms) };
    });
}

test.each([
  ['bounceAndSlip', '4.7 kΩ ±1 %', ['contact', 4703.2, 'released', 'contact', 4688.9, 'released']],
  ['slowHundredMegohm', '100 MΩ ±10 %', ['contact', 100.4e6, 'released']],
  ['fingersBeforeMegohm', '1 MΩ ±1 %', ['contact', 'released', 'contact', 1_002_310, 'released']],
  [
    'openByTaps',
    '4.7 kΩ ±1 %',
    ['contact', 'released', 'contact', 'released', 'open-said', 'captured-open', 'contact', 4711.7, 'released'],
  ],
  ['shortedPiece', '4.7 kΩ ±1 %', ['contact', 0.12, 'released', 'contact', 4695.3, 'released']],
  ['meterBusy', '4.7 kΩ ±1 %', ['released', 'contact', 4701, 'released']],
] as const)('%s', (file, name, expected) => {
  const kind = KINDS.find((one) => one.name === name) as Kind;
  const setting = settingForKind(kind);
  const { happened } = play(readingsIn(file), setting);
  const wanted = expected.map((one) => (typeof one === 'number' ? 'captured' : one));
  expect(happened.map(({ outcome }) => outcome.kind)).toEqual(wanted);
  expected.forEach((one, index) => {
    if (typeof one !== 'number') return;
    expect(Math.abs((happened[index]?.ohms ?? Number.NaN) - one)).toBeLessThan(setting.driftOhms);
  });
});
