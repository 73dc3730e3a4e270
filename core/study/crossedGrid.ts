import { problem } from '../problem/problem.ts';
import { deviationsOf } from './deviations.ts';
import { missingWords } from './missingWords.ts';
import { byName, type CrossedReading } from './reading.ts';

/** The readings of a crossed study in their places, as deviations from `base` in ohms. */
export interface CrossedGrid {
  base: number;
  pieces: readonly string[];
  operators: readonly string[];
  repeats: number;
  /** Readings of the piece by the operator, by their places in `pieces` and `operators`, in the order of repeats. */
  cell(piece: number, operator: number): readonly number[];
}

/**
 * Puts the readings in their places; every cell must have the same number of them.
 * @throws problems study-one-operator, study-one-piece, study-one-repeat, study-reading-twice, study-out-of-range,
 *   study-readings-missing (naming the first missing cells)
 */
export function gridOf(readings: readonly CrossedReading[]): CrossedGrid {
  const pieces = [...new Set(readings.map(({ piece }) => piece))].sort(byName);
  const operators = [...new Set(readings.map(({ operator }) => operator))].sort(byName);
  if (readings.length === 0) throw problem('study-readings-missing', 'there are none');
  if (operators.length === 1) throw problem('study-one-operator', operators[0] ?? '');
  if (pieces.length === 1) throw problem('study-one-piece', pieces[0] ?? '');

  const { base, deviations } = deviationsOf(readings.map(({ ohms }) => ohms));
  const places = new Map<string, number>();
  let repeats = 0;
  for (const [index, { piece, operator, repeat }] of readings.entries()) {
    if (!Number.isSafeInteger(repeat) || repeat < 1 || repeat > readings.length) {
      throw problem(
        'study-out-of-range',
        'as a repeat',
        repeat,
        `it must be from 1 to ${readings.length}, the readings`,
      );
    }
    const key = keyOf(piece, operator, repeat);
    if (places.has(key)) throw problem('study-reading-twice', cellWords(piece, operator, repeat));
    places.set(key, deviations[index] as number);
    repeats = Math.max(repeats, repeat);
  }
  mustBeWhole(pieces, operators, repeats, places);
  if (repeats === 1) throw problem('study-one-repeat', 'crossed');
  return {
    base,
    pieces,
    operators,
    repeats,
    cell: (piece, operator) =>
      Array.from(
        { length: repeats },
        (_, index) => places.get(keyOf(pieces[piece] as string, operators[operator] as string, index + 1)) as number,
      ),
  };
}

function mustBeWhole(
  pieces: readonly string[],
  operators: readonly string[],
  repeats: number,
  places: ReadonlyMap<string, number>,
): void {
  const lacking = pieces.length * operators.length * repeats - places.size;
  if (lacking === 0) return;
  throw problem('study-readings-missing', missingWords(missingCells(), lacking));

  function* missingCells(): Generator<string> {
    for (const piece of pieces) {
      for (const operator of operators) {
        for (let repeat = 1; repeat <= repeats; repeat += 1) {
          if (!places.has(keyOf(piece, operator, repeat))) yield cellWords(piece, operator, repeat);
        }
      }
    }
  }
}

function keyOf(piece: string, operator: string, repeat: number): string {
  return JSON.stringify([piece, operator, repeat]);
}

function cellWords(piece: string, operator: string, repeat: number): string {
  return `piece ${piece}, operator ${operator}, repeat ${repeat}`;
}
