import anotherDecade from '../../instruments/exercises/another-decade.json' with { type: 'json' };
import bankShort from '../../instruments/exercises/bank-short.json' with { type: 'json' };
import breaker from '../../instruments/exercises/breaker.json' with { type: 'json' };
import bridge from '../../instruments/exercises/bridge.json' with { type: 'json' };
import clumsyHands from '../../instruments/exercises/clumsy-hands.json' with { type: 'json' };
import driftingMeter from '../../instruments/exercises/drifting-meter.json' with { type: 'json' };
import energised from '../../instruments/exercises/energised.json' with { type: 'json' };
import fingers from '../../instruments/exercises/fingers.json' with { type: 'json' };
import goodReel from '../../instruments/exercises/good-reel.json' with { type: 'json' };
import inCircuit from '../../instruments/exercises/in-circuit.json' with { type: 'json' };
import lostZero from '../../instruments/exercises/lost-zero.json' with { type: 'json' };
import mixedReel from '../../instruments/exercises/mixed-reel.json' with { type: 'json' };
import movingLead from '../../instruments/exercises/moving-lead.json' with { type: 'json' };
import sortedLot from '../../instruments/exercises/sorted-lot.json' with { type: 'json' };
import stringOpen from '../../instruments/exercises/string-open.json' with { type: 'json' };
import { type Exercise, readExercise } from './exerciseFile.ts';

/** In the order of the tray, the easier ones first. */
const FILES = [
  goodReel,
  energised,
  anotherDecade,
  stringOpen,
  movingLead,
  lostZero,
  inCircuit,
  fingers,
  breaker,
  mixedReel,
  driftingMeter,
  sortedLot,
  bankShort,
  bridge,
  clumsyHands,
];

let read: readonly Exercise[] | null = null;

/** The exercises that come with the program. */
export function shippedExercises(): readonly Exercise[] {
  read ??= FILES.map((file) => readExercise(`${file.name}.json`, JSON.stringify(file)));
  return read;
}
