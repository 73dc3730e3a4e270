import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';

/** Choices that depend on nothing but the seed and how many were made before. */
export interface SeededRandom {
  /** From 0 up to, not including, 1. */
  fraction(): number;
  /** A whole number from least to most, both among them. */
  whole(least: number, most: number): number;
  /** True so often in one. */
  chance(share: number): boolean;
  pick<T>(choices: readonly [T, ...T[]]): T;
}

/** @param seeds whole numbers; another stream for each sequence of them */
export function seededRandom(...seeds: number[]): SeededRandom {
  // Mixed in order, so that seed 1 of lane 2 is not seed 2 of lane 1 (a linear congruential step; constants from memory).
  const generator = mersenne(
    seeds.reduce((mixed, seed) => (Math.imul(mixed, 1_664_525) + seed + 1_013_904_223) | 0, 1),
  );
  const whole = (least: number, most: number) => uniformInt(generator, least, most);
  return {
    fraction: () => uniformFloat64(generator),
    whole,
    chance: (share) => uniformFloat64(generator) < share,
    pick: (choices) => choices[whole(0, choices.length - 1)] ?? choices[0],
  };
}
