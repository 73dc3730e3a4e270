import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';
import { skipN } from 'pure-rand/utils/skipN';

/**
 * A random number from 0 up to, not including, 1 that depends on nothing but these whole numbers, so that what a piece
 * is doesn't depend on which pieces were looked at before.
 */
export function uniformAt(...keys: number[]): number {
  return uniformFloat64(generatorAt(keys));
}

/**
 * As `uniformAt`, standard normal.
 * Source: G. E. P. Box, M. E. Muller, "A Note on the Generation of Random Normal Deviates", Ann. Math. Statist. 29
 * (1958) 610-611.
 */
export function normalAt(...keys: number[]): number {
  const generator = generatorAt(keys);
  const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(generator)));
  return radius * Math.cos(2 * Math.PI * uniformFloat64(generator));
}

// The generator's first numbers hardly depend on its seed (the very first is always the same).
const NUMBERS_SKIPPED = 20;

function generatorAt(keys: number[]): RandomGenerator {
  const generator = xoroshiro128plus(mixed(keys));
  skipN(generator, NUMBERS_SKIPPED);
  return generator;
}

// The generator starts from 32 bits and needs unlike starts for neighbouring keys: the finaliser of MurmurHash3
// (A. Appleby, public domain) spreads every key over all bits.
function mixed(keys: number[]): number {
  let hash = 0;
  for (const key of keys) {
    hash = Math.imul(hash ^ key, 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
    hash ^= hash >>> 16;
    hash = (hash + 0x9e3779b9) | 0;
  }
  return hash;
}
