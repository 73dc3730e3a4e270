import { withBeside } from './beside.ts';
import type { Conditions } from './conditions.ts';
import { trueOhms } from './lot.ts';
import { referenceOhmsAt } from './reference.ts';
import type { BenchScenario } from './scenario.ts';
import { ohmsAfter } from './stress.ts';
import { ohmsWhileRead } from './temperature.ts';

/** Places that are not pieces: nothing, each other, the reference resistor, the fixture as it waits for its piece. */
export const NAMED_PLACES = ['OPEN', 'SHOR', 'REF', 'FIXT'] as const;

/** What the probes touch: a piece of the lot by its number, or one of the named places. */
export type Place = number | (typeof NAMED_PLACES)[number];

/**
 * True resistance between the tips in ohms, while the meter reads it on a range; null where nothing conducts.
 * @param earlier how often the probes were put there before
 */
export function ohmsBetweenTips(
  scenario: BenchScenario,
  place: Place,
  conditions: Pick<Conditions, 'ambientCelsius' | 'stress' | 'inCircuit' | 'fingers'>,
  rangeOhms: number,
  earlier = 0,
): number | null {
  const { ambientCelsius, stress } = conditions;
  if (place === 'OPEN') return null;
  if (place === 'SHOR') return 0;
  if (place === 'REF') return referenceOhmsAt(scenario, ambientCelsius);
  // The first piece lies in the fixture when it is checked for voltage.
  const piece = place === 'FIXT' ? 1 : place;
  const ohms = trueOhms(scenario, piece);
  const own =
    ohms === null
      ? null
      : ohmsWhileRead(scenario, piece, ohmsAfter(scenario.seed, piece, ohms, stress), ambientCelsius, rangeOhms);
  return withBeside(scenario, conditions, piece, own, earlier);
}

/** Whether the probes are on the fixture, where a voltage may be. */
export function isInFixture(place: Place): boolean {
  return place === 'FIXT' || typeof place === 'number';
}
