import bankOfSix from '../../instruments/exercises/bank-of-six.json' with { type: 'json' };
import benchByTheWindow from '../../instruments/exercises/bench-by-the-window.json' with { type: 'json' };
import bridgeOfFour from '../../instruments/exercises/bridge-of-four.json' with { type: 'json' };
import eightBoards from '../../instruments/exercises/eight-boards.json' with { type: 'json' };
import fiftyPieces from '../../instruments/exercises/fifty-pieces.json' with { type: 'json' };
import firstReel from '../../instruments/exercises/first-reel.json' with { type: 'json' };
import highValues from '../../instruments/exercises/high-values.json' with { type: 'json' };
import lowValues from '../../instruments/exercises/low-values.json' with { type: 'json' };
import newReel from '../../instruments/exercises/new-reel.json' with { type: 'json' };
import sixSupplies from '../../instruments/exercises/six-supplies.json' with { type: 'json' };
import stringOfTen from '../../instruments/exercises/string-of-ten.json' with { type: 'json' };
import thirtyTwoPieces from '../../instruments/exercises/thirty-two-pieces.json' with { type: 'json' };
import threeOperators from '../../instruments/exercises/three-operators.json' with { type: 'json' };
import threePoles from '../../instruments/exercises/three-poles.json' with { type: 'json' };
import twentyPieces from '../../instruments/exercises/twenty-pieces.json' with { type: 'json' };
import { type Exercise, readExercise } from './exerciseFile.ts';

/** In the order of the tray, the easier ones first. */
const FILES = [
  firstReel,
  sixSupplies,
  newReel,
  stringOfTen,
  benchByTheWindow,
  lowValues,
  eightBoards,
  highValues,
  threePoles,
  thirtyTwoPieces,
  twentyPieces,
  fiftyPieces,
  bankOfSix,
  bridgeOfFour,
  threeOperators,
];

let read: readonly Exercise[] | null = null;

/** The exercises that come with the program. */
export function shippedExercises(): readonly Exercise[] {
  read ??= FILES.map((file) => readExercise(`${file.name}.json`, JSON.stringify(file)));
  return read;
}
