import { trueOhms } from './lot.ts';
import { referenceOf } from './reference.ts';
import type { BenchScenario } from './scenario.ts';

/** Places that are not pieces: nothing, each other, the reference resistor, the fixture as it waits for its piece. */
export const NAMED_PLACES = ['OPEN', 'SHOR', 'REF', 'FIXT'] as const;

/** What the probes touch: a piece of the lot by its number, or one of the named places. */
export type Place = number | (typeof NAMED_PLACES)[number];

/** True resistance between the tips in ohms; null where nothing conducts. */
export function ohmsBetweenTips(scenario: BenchScenario, place: Place): number | null {
  if (place === 'OPEN') return null;
  if (place === 'SHOR') return 0;
  if (place === 'REF') return referenceOf(scenario).trueOhms;
  // The first piece lies in the fixture when it is checked for voltage.
  return trueOhms(scenario, place === 'FIXT' ? 1 : place);
}

/** Whether the probes are on the fixture, where a voltage may be. */
export function isInFixture(place: Place): boolean {
  return place === 'FIXT' || typeof place === 'number';
}
