import { type Draft, EMPTY_DRAFT } from './draft.ts';

/**
 * An invented lot that fits the simulated bench: a small sample, so that a newcomer is through the whole job in a minute.
 * 5 000 pieces at level S-3 give code letter F, 20 pieces; AQL 2.5 accepts 1 (MIL-STD-105E, Tables I and II-A).
 */
export const EXAMPLE_LOT: Omit<Draft, 'inspector'> = {
  ...EMPTY_DRAFT,
  partNumber: 'EXAMPLE 4K7',
  description: 'Film resistor 4.7 kΩ, 0.25 W',
  nominal: '4k7',
  tolerance: '1 %',
  lotNumber: 'EXAMPLE-1',
  supplier: 'Invented supplier',
  size: '5000',
  level: 'S-3',
  aql: '2.5',
};

/** Who inspects the example when nobody has said a name. */
export const EXAMPLE_INSPECTOR = 'Newcomer';
