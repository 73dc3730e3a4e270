import { withBeside } from './beside.ts';
import type { Conditions } from './conditions.ts';
import { trueOhms } from './lot.ts';
import { referenceOhmsAt } from './reference.ts';
import type { BenchScenario } from './scenario.ts';
import { ohmsAfter } from './stress.ts';
import { ohmsWhileRead } from './temperature.ts';
import { type PairPlace, terminalsOf, wiringOhms } from './wiring.ts';

/** Places that are not pieces: nothing, each other, the reference resistor, the fixture as it waits for its piece. */
export const NAMED_PLACES = ['OPEN', 'SHOR', 'REF', 'FIXT'] as const;

/** What the probes touch: a piece of the lot by its number, one of the named places, or two terminals of the wiring. */
export type Place = number | (typeof NAMED_PLACES)[number] | PairPlace;

/**
 * True resistance between the tips in ohms, while the meter reads it on a range; null where nothing conducts.
 * @param earlier how often the probes were put there before
 */
export function ohmsBetweenTips(
  scenario: BenchScenario,
  place: Place,
  conditions: Pick<Conditions, 'ambientCelsius' | 'stress' | 'inCircuit' | 'fingers' | 'state'>,
  rangeOhms: number,
  earlier = 0,
): number | null {
  const { ambientCelsius, stress, state } = conditions;
  if (place === 'OPEN') return null;
  if (place === 'SHOR') return 0;
  if (place === 'REF') return referenceOhmsAt(scenario, ambientCelsius);
  const terminals = terminalsOf(place);
  if (terminals) return scenario.wiring && wiringOhms(scenario.wiring, terminals, state);
  // The first piece lies in the fixture when it is checked for voltage.
  const piece = typeof place === 'number' ? place : 1;
  const ohms = trueOhms(scenario, piece);
  const own =
    ohms === null
      ? null
      : ohmsWhileRead(scenario, piece, ohmsAfter(scenario.seed, piece, ohms, stress), ambientCelsius, rangeOhms);
  return withBeside(scenario, conditions, piece, own, earlier);
}

/** Whether the probes are on the fixture or the wiring, where a voltage may be. */
export function isInFixture(place: Place): boolean {
  return place === 'FIXT' || typeof place === 'number' || terminalsOf(place) !== null;
}
