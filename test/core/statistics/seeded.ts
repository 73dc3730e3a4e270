import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';

/** Numbers from 0 to 1, the same for the same seed: Mulberry32, public domain. */
export function seeded(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return (((mixed ^ (mixed >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  };
}

/** Standard normal numbers from such. */
export function normals(seed: number): () => number {
  const uniform = seeded(seed);
  return () => normalQuantile(uniform(), 0, 1);
}
