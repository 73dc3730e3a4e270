import type { Draft } from './draft.ts';

/**
 * An invented lot that fits the simulated bench: a small sample, so that a newcomer is through the whole job in a minute.
 * 5 000 pieces at level S-3 give code letter F, 20 pieces; AQL 2.5 accepts 1 (MIL-STD-105E, Tables I and II-A).
 */
export const EXAMPLE_LOT: Omit<Draft, 'inspector'> = {
  partNumber: 'EXAMPLE 4K7',
  description: 'Film resistor 4.7 kΩ, 0.25 W',
  nominal: '4k7',
  tolerance: '1 %',
  lotNumber: 'EXAMPLE-1',
  supplier: 'Invented supplier',
  size: '5000',
  planBy: 'aql',
  level: 'S-3',
  aql: '2.5',
  sampleSize: '',
  accept: '0',
  method: '2-wire',
  range: 'window',
  integrationCycles: '1',
  everyReadings: '50',
  everyMinutes: '240',
  ambientLowest: '18',
  ambientHighest: '28',
};

/** Who inspects the example when nobody has said a name. */
export const EXAMPLE_INSPECTOR = 'Newcomer';
