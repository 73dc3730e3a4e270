import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';
import { problem } from '../problem/problem.ts';
import { type StudyChoice, turnsOf } from './studyPlan.ts';

/** What is measured at one turn of a study. All numbers are from 1. */
export interface Turn {
  turn: number;
  piece: number;
  operator: string;
  /** Which reading of this piece by this operator (and in this session) it is. */
  repeat: number;
  /** Session within its run; 1 of a crossed study. */
  session: number;
  run: number;
}

const orders = new WeakMap<StudyChoice, readonly Turn[]>();

/**
 * The order a study is measured in, the same for the same choice always: random with the choice's seed, within what is
 * reasonable at a bench.
 *
 * - Crossed: repeat by repeat. Within a repeat the operators come in random order; each measures all pieces, in an order
 *   random anew. So operators change places seldom, everybody has measured all pieces before anybody measures one again,
 *   and a drift of meter or room is spread over all pieces.
 * - Single: run by run, session by session; within a session repeat by repeat all pieces in random order.
 *
 * Random numbers are those of the Mersenne twister MT19937 (Matsumoto and Nishimura 1998), shuffled by Durstenfeld's
 * method (Communications of the ACM 7, 1964, algorithm 235).
 * @throws problems of turnsOf
 */
export function orderOf(choice: StudyChoice): readonly Turn[] {
  const known = orders.get(choice);
  if (known) return known;
  const order = drawn(choice);
  orders.set(choice, order);
  return order;
}

/** What is measured at this turn. @throws problem study-turn-unknown, and those of turnsOf */
export function turnOf(choice: StudyChoice, turn: number): Turn {
  const found = orderOf(choice)[turn - 1];
  if (found === undefined) throw problem('study-turn-unknown', turn);
  return found;
}

function drawn(choice: StudyChoice): Turn[] {
  turnsOf(choice);
  const generator = mersenne(choice.seed);
  const pieces = Array.from({ length: choice.pieces }, (_, index) => index + 1);
  const order: Turn[] = [];
  for (let run = 1; run <= choice.runs; run += 1) {
    for (let session = 1; session <= choice.sessions; session += 1) {
      for (let repeat = 1; repeat <= choice.repeats; repeat += 1) {
        for (const operator of shuffled(choice.operators, generator)) {
          for (const piece of shuffled(pieces, generator)) {
            order.push({ turn: order.length + 1, piece, operator, repeat, session, run });
          }
        }
      }
    }
  }
  return order;
}

function shuffled<T>(items: readonly T[], generator: RandomGenerator): T[] {
  const result = [...items];
  for (let last = result.length - 1; last > 0; last -= 1) {
    const place = uniformInt(generator, 0, last);
    [result[last], result[place]] = [result[place] as T, result[last] as T];
  }
  return result;
}
