import { problem } from '../problem/problem.ts';
import { missingWords } from './missingWords.ts';
import { byName, type SingleReading } from './reading.ts';

/** How many pieces, runs, sessions and repeats a single-operator study has, and the place of each reading in it. */
export interface SingleGrid {
  pieces: readonly string[];
  runs: number;
  sessions: number;
  repeats: number;
  /** Which of the readings (from 0) are the repeats of a piece in a session, in order. */
  repeatsOf(piece: string, run: number, session: number): number[];
}

/**
 * Finds the places of the readings; every piece must have all repeats in all sessions of all runs.
 * @throws problems study-one-repeat, study-reading-twice, study-out-of-range, study-readings-missing (naming the first)
 */
export function singleGridOf(readings: readonly SingleReading[]): SingleGrid {
  if (readings.length === 0) throw problem('study-readings-missing', 'there are none');
  const pieces = [...new Set(readings.map(({ piece }) => piece))].sort(byName);
  const places = new Map<string, number>();
  let [runs, sessions, repeats] = [0, 0, 0];
  for (const [index, { piece, run, session, repeat }] of readings.entries()) {
    for (const [name, value] of [
      ['run', run],
      ['session', session],
      ['repeat', repeat],
    ] as const) {
      if (Number.isSafeInteger(value) && value >= 1 && value <= readings.length) continue;
      throw problem(
        'study-out-of-range',
        `as a ${name}`,
        value,
        `it must be from 1 to ${readings.length}, the readings`,
      );
    }
    const key = keyOf(piece, run, session, repeat);
    if (places.has(key)) throw problem('study-reading-twice', placeWords(piece, run, session, repeat));
    places.set(key, index);
    runs = Math.max(runs, run);
    sessions = Math.max(sessions, session);
    repeats = Math.max(repeats, repeat);
  }
  const lacking = pieces.length * runs * sessions * repeats - readings.length;
  if (lacking > 0) throw problem('study-readings-missing', missingWords(missingPlaces(), lacking));
  if (repeats === 1) throw problem('study-one-repeat', 'single-operator');
  return {
    pieces,
    runs,
    sessions,
    repeats,
    repeatsOf: (piece, run, session) =>
      Array.from({ length: repeats }, (_, index) => places.get(keyOf(piece, run, session, index + 1)) as number),
  };

  function* missingPlaces(): Generator<string> {
    for (const piece of pieces) {
      for (let run = 1; run <= runs; run += 1) {
        for (let session = 1; session <= sessions; session += 1) {
          for (let repeat = 1; repeat <= repeats; repeat += 1) {
            if (!places.has(keyOf(piece, run, session, repeat))) yield placeWords(piece, run, session, repeat);
          }
        }
      }
    }
  }
}

function keyOf(piece: string, run: number, session: number, repeat: number): string {
  return JSON.stringify([piece, run, session, repeat]);
}

function placeWords(piece: string, run: number, session: number, repeat: number): string {
  return `piece ${piece}, run ${run}, session ${session}, repeat ${repeat}`;
}
