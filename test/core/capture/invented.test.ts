import { expect, test } from 'vitest';
import { KINDS, type Kind } from './kinds.ts';
import { play } from './play.ts';
import { readingsIn } from './recordedStream.ts';
import { settingForKind } from './settingForKind.ts';

/** Each file is in the form of a recording, but invented, as its first line says. */
const fileOf = (name: string) => new URL(`invented/${name}.txt`, import.meta.url);

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
  const { happened } = play(readingsIn(fileOf(file)), setting);
  const wanted = expected.map((one) => (typeof one === 'number' ? 'captured' : one));
  expect(happened.map(({ outcome }) => outcome.kind)).toEqual(wanted);
  expected.forEach((one, index) => {
    if (typeof one !== 'number') return;
    expect(Math.abs((happened[index]?.ohms ?? Number.NaN) - one)).toBeLessThan(setting.driftOhms);
  });
});
