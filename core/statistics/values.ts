import { problem } from '../problem/problem.ts';

/** Readings as numbers, in the order measured unless a name says otherwise. */
export type Values = readonly number[] | Float64Array;

declare const ascending: unique symbol;

/** Readings from the lowest to the highest. Only sortedOf makes them, so nothing unsorted is taken for sorted. */
export type SortedValues = Float64Array & { readonly [ascending]: true };

/** Why a figure is not given, in words for the technician. It stands where the figure would. */
export interface Refused {
  refused: string;
}

/** Lowest and highest value a good piece may have, as numbers. Null where there is none. For statistics only: verdicts are decided in exact decimals. */
export interface Limits {
  nominal: number | null;
  lower: number | null;
  upper: number | null;
}

/**
 * A sorted copy, to be made once and given to all that needs it.
 * @throws problem figure-not-finite where a value is no finite number
 */
export function sortedOf(values: Values): SortedValues {
  const sorted = Float64Array.from(values).sort();
  // Sorted, whatever is not finite stands at an end.
  for (const end of [sorted[0], sorted[sorted.length - 1]]) {
    if (end !== undefined && !Number.isFinite(end)) throw problem('figure-not-finite', String(end));
  }
  return sorted as SortedValues;
}

export function isRefused<T extends object>(figure: T | Refused): figure is Refused {
  return 'refused' in figure;
}
