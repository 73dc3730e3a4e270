import { describe, expect, it } from 'vitest';
import type { Found } from '../../core/readiness/check.ts';
import { calibrationInShort, calibrationWords, zeroWords } from '../../renderer/words/bench.ts';
import { foundLines } from '../../renderer/words/found.ts';
import { piecesText } from '../../renderer/words/pieces.ts';
import { confirmedRun, METER, METER_DATA, SIMULATED, walk } from '../core/inspection/walk.ts';

const plain = (text: string | null) => text?.replaceAll('\u00a0', ' ') ?? null;
const found = (what: Found['what'], unit: Found['unit'], raw: string, value: string | null): Found => ({
  what,
  unit,
  raw,
  value,
});

it('writes what was read in a check with the meter’s own figures, like with like', () => {
  const lines = foundLines([
    found('2-wire', 'ohms', '+1.820E-01', '0.182'),
    found('2-wire', 'ohms', '+1.830E-01', '0.183'),
    found('2-wire', 'ohms', '+9.9E+37', null),
    found('dc-volts', 'volts', '-1.2E-05', '-0.000012'),
    found('dc-volts', 'volts', '+5.0E+00', '5'),
    found('temperature-typed', 'celsius', '22.5', '22.5'),
    found('trouble', '', '-222,"Data out of range"', null),
  ]);
  expect(lines.map(({ what, values }) => plain(`${what}: ${values.join(', ')}`))).toEqual([
    '2-wire: 182.0 mΩ, 183.0 mΩ, overload',
    'DC volts: -12 µV, 5 V',
    'temperature, as typed: 22.5 °C',
    'trouble: -222,"Data out of range"',
  ]);
});

it('draws numbers of pieces together', () => {
  expect(piecesText([3])).toBe('3');
  expect(piecesText([1, 2])).toBe('1, 2');
  expect(piecesText([1, 2, 3, 7, 9, 10, 11, 12])).toBe('1 to 3, 7, 9 to 12');
});

describe('the calibration of a meter in words', () => {
  const at = '2026-03-02T14:05:00+01:00';
  it('is short where it is in date, and whole where it is not', () => {
    expect(calibrationInShort({ meter: METER, overridden: null }, at)).toBe('calibration due 2027-01-09');
    const overdue = {
      ...METER,
      data: { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-02-28' } },
    };
    expect(calibrationInShort({ meter: overdue, overridden: null }, at)).toContain('was due on 2026-02-28');
    const unknown = walk(confirmedRun({}, { ...METER, data: null }), {
      type: 'override-calibration',
      by: 'R. Adeyemi',
      reason: 'compared this morning',
    });
    expect(calibrationWords(unknown, at)).toMatch(/is known; overridden by R\. Adeyemi: compared this morning$/);
  });

  it('is not a question at the simulated bench', () => {
    expect(calibrationWords({ meter: SIMULATED, overridden: null }, at)).toBeNull();
  });
});

it('says whether the zero is subtracted', () => {
  const zero = (method: '2-wire' | '4-wire') =>
    plain(zeroWords({ shortedOhms: '0.182', measurement: { method, range: 'window', integrationCycles: '1' } }));
  expect(zero('2-wire')).toBe('182 mΩ subtracted');
  expect(zero('4-wire')).toBe('182 mΩ in 4-wire, not subtracted');
});
