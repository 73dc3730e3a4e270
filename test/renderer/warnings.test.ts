import { describe, expect, it } from 'vitest';
import { apply } from '../../core/inspection/apply.ts';
import type { Reading, ReferenceShown, Run } from '../../core/inspection/run.ts';
import { type Warning, warningsOf } from '../../renderer/measure/warnings.ts';
import { factsOfClaim, METER, METER_DATA } from '../core/inspection/walk.ts';

const at = '2026-03-02T14:05:09.120+01:00';
const run: Run = {
  ...apply(apply(null, { type: 'lot-received', at, facts: factsOfClaim() }), {
    type: 'meter-connected',
    at,
    meter: METER,
  }),
  ambientCelsius: '23',
};
const reading: Reading = {
  reading: 3,
  piece: 3,
  position: null,
  at,
  raw: '+4.7021E+03',
  ohms: '4702.1',
  zeroOhms: '0',
  temperatureOhms: '0',
  // 4700 Ω ±1 %: the tolerance of 47 Ω is more than 22 times that.
  uncertainty: { expandedOhms: '2.1', coverageFactor: '2.00' },
  verdict: 'pass',
  voided: null,
  suspect: null,
};
const plain = (warnings: readonly Warning[]) =>
  warnings.map(({ kind, words }) => `${kind}: ${words.replaceAll('\u00a0', ' ')}`);

/** A check of the reference that showed this; the meter may move by a tenth of the tolerance, 47 Ω / 10 · 5000 / 4747 = 4.95 Ω. */
const reference = (measuredOhms: string, en: number | null = null): ReferenceShown => ({
  afterReading: 0,
  at,
  name: 'RS-1',
  ohms: '5000',
  uncertaintyOhms: '0.05',
  measuredOhms: [measuredOhms],
  resolutionOhms: '0.1',
  passed: true,
  en,
});

describe('what weakens a reading', () => {
  it('is nothing where all is well', () => {
    expect(warningsOf({ ...run, references: [reference('5000.1', 0.2), reference('5000.3', 0.3)] }, reading)).toEqual(
      [],
    );
  });

  it('is a test uncertainty ratio under 4 (common practice)', () => {
    const at4 = { ...reading, uncertainty: { expandedOhms: '11.75', coverageFactor: '2.00' } };
    expect(warningsOf(run, at4)).toEqual([]);
    const below = { ...reading, uncertainty: { expandedOhms: '12', coverageFactor: '2.00' } };
    expect(plain(warningsOf(run, below))).toEqual([
      'uncertainty-ratio: The test uncertainty ratio is 3.9, under 4: verdicts near a limit are weak.',
    ]);
  });

  it('is an uncertainty that is not known, but not of an overload', () => {
    expect(plain(warningsOf(run, { ...reading, uncertainty: null }))[0]).toContain('is not known');
    expect(warningsOf(run, { ...reading, ohms: null, uncertainty: null, verdict: 'open' })).toEqual([]);
  });

  it('is a test current that heats the piece', () => {
    // I²R = (1 mA)² · 4702.1 Ω = 4.7021 mW: 7.5 % of 0.063 W, 15 % of 0.031 W; said above a tenth.
    const rated = (ratedWatts: string): Run => ({ ...run, part: { ...run.part, ratedWatts } });
    expect(METER_DATA.ranges[0]?.testCurrentAmperes).toBe('0.001');
    expect(warningsOf(rated('0.063'), reading)).toEqual([]);
    expect(plain(warningsOf(rated('0.031'), reading))).toEqual([
      'self-heating: The test current heats the piece with 15 % of its rated power.',
    ]);
  });

  it('is a meter that has moved by half of what it may, or does not agree with its reference', () => {
    const moved = { ...run, references: [reference('5000.1'), reference('5002.6')] };
    expect(plain(warningsOf(moved, reading))).toEqual([
      'meter-drift: The meter moved by 2.5 Ω since its first check, 51 % of what it may.',
    ]);
    expect(warningsOf({ ...run, references: [reference('5000.1'), reference('5002.5')] }, reading)).toEqual([]);
    // ISO/IEC 17043:2010, B.3.1.3 (from memory): |E_n| above 1 is not in agreement.
    expect(plain(warningsOf({ ...run, references: [reference('4999', -1.3)] }, reading))[0]).toContain('E_n is -1.3');
    expect(warningsOf({ ...run, references: [reference('5000', 1)] }, reading)).toEqual([]);
  });

  it('is a coefficient of which only a limit is known, away from the reference temperature', () => {
    const limit = { ...run.temperature, coefficient: { kind: 'limit', ppmPerKelvin: '100' } } as const;
    expect(plain(warningsOf({ ...run, temperature: limit }, reading))).toEqual([
      'temperature: The value is that at 23 °C, not at 20 °C: the coefficient has only a limit.',
    ]);
    expect(warningsOf({ ...run, temperature: limit, ambientCelsius: '20.0' }, reading)).toEqual([]);
  });

  it('comes with what is wrong with all readings first', () => {
    const all = warningsOf(
      {
        ...run,
        references: [reference('5000.1'), reference('5004')],
        part: { ...run.part, ratedWatts: '0.01' },
        temperature: { ...run.temperature, coefficient: { kind: 'limit', ppmPerKelvin: '100' } },
      },
      { ...reading, verdict: 'conditional-fail-high', uncertainty: { expandedOhms: '20', coverageFactor: '2.00' } },
      { limit: 'upper', piece: 4310, earliest: 3000, latest: null },
    );
    expect(all.map(({ kind }) => kind)).toEqual([
      'meter-drift',
      'self-heating',
      'reel-trend',
      'uncertainty-ratio',
      'conditional',
      'temperature',
    ]);
    expect(plain(all)[2]).toBe(
      'reel-trend: The value rises along the reel: at this slope piece 4 310 leaves the window.',
    );
  });
});
