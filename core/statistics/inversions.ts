import { problem } from '../problem/problem.ts';
import type { SortedValues, Values } from './values.ts';

/** Short stretches are put in order by insertion, which is quicker there than merging. */
const STRETCH = 24;

/** Readings put in order, and how many pairs of them stood the other way round. */
export interface Ordered {
  sorted: SortedValues;
  /** Pairs of which the earlier reading is the larger; equal ones are none. */
  inversions: number;
}

/**
 * Sorts readings and counts on the way how many pairs stood the wrong way round, in O(n log n): merge sort, bottom up.
 * Source: Knight, A computer method for calculating Kendall's tau with ungrouped data, JASA 61 (1966).
 * @throws problem figure-not-finite where a value is no finite number
 */
export function orderedOf(values: Values): Ordered {
  const n = values.length;
  let from = Float64Array.from(values);
  for (let i = 0; i < n; i++) if (!Number.isFinite(from[i])) throw problem('figure-not-finite', String(from[i]));
  let inversions = 0;
  for (let start = 0; start < n; start += STRETCH) {
    inversions += insertInto(from, start, Math.min(start + STRETCH, n));
  }
  let to = new Float64Array(n);
  for (let width = STRETCH; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      inversions += merge(from, to, start, Math.min(start + width, n), Math.min(start + 2 * width, n));
    }
    [from, to] = [to, from];
  }
  return { sorted: from as SortedValues, inversions };
}

function insertInto(values: Float64Array, start: number, end: number): number {
  let inversions = 0;
  for (let i = start + 1; i < end; i++) {
    const value = values[i] as number;
    let place = i;
    while (place > start && (values[place - 1] as number) > value) {
      values[place] = values[place - 1] as number;
      place--;
    }
    values[place] = value;
    inversions += i - place;
  }
  return inversions;
}

function merge(from: Float64Array, to: Float64Array, start: number, middle: number, end: number): number {
  let inversions = 0;
  let [left, right] = [start, middle];
  for (let place = start; place < end; place++) {
    if (right >= end || (left < middle && (from[left] as number) <= (from[right] as number))) {
      to[place] = from[left++] as number;
    } else {
      // All that is left of the earlier half is larger than this one.
      inversions += middle - left;
      to[place] = from[right++] as number;
    }
  }
  return inversions;
}
