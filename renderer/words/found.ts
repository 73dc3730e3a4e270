import Big from 'big.js';
import { resolutionOfRaw, showOhms } from '../../core/quantity/formatOhms.ts';
import type { Found, FoundWhat } from '../../core/readiness/check.ts';

/** What was looked at in a check, as it is said. */
export const FOUND_WORDS: Record<FoundWhat, string> = {
  '2-wire': '2-wire',
  '2-wire-automatic': '2-wire, own range',
  '4-wire-automatic': '4-wire, own range',
  '4-wire': '4-wire',
  continuity: 'continuity',
  'dc-volts': 'DC volts',
  temperature: 'temperature, by the meter',
  'temperature-typed': 'temperature, as typed',
  identity: 'identity',
  trouble: 'trouble',
  word: 'word given',
  waiver: 'reason',
};

const VOLT_UNITS: readonly (readonly [power: number, unit: string])[] = [
  [0, 'V'],
  [-3, 'mV'],
  [-6, 'µV'],
];

/** A value with its unit to the last digit the meter gave, or the very text where there is none. */
function valueText({ raw, value, unit }: Found): string {
  if (unit === '') return raw;
  if (value === null) return 'overload';
  const resolution = resolutionOfRaw(raw);
  switch (unit) {
    case 'ohms': {
      const { figures, unit } = showOhms(value, resolution === null ? {} : { resolutionOhms: resolution });
      return `${figures}\u00a0${unit}`;
    }
    case 'volts':
      return voltsText(new Big(value));
    case 'celsius':
      return `${value}\u00a0°C`;
  }
}

function voltsText(volts: Big): string {
  const [power, unit] = VOLT_UNITS.find(([power]) => volts.abs().gte(`1e${power}`)) ?? [-6, 'µV'];
  return `${volts.times(`1e${-power}`).toFixed()}\u00a0${unit}`;
}

/** Everything that was found in a check, one line for each thing looked at: what it was, and its values in order. */
export function foundLines(found: readonly Found[]): { what: string; values: string[] }[] {
  const lines = new Map<FoundWhat, string[]>();
  for (const one of found) {
    const values = lines.get(one.what) ?? [];
    lines.set(one.what, [...values, valueText(one)]);
  }
  return [...lines].map(([what, values]) => ({ what: FOUND_WORDS[what], values }));
}
