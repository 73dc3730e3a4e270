/**
 * A count made comparable: twice its root, whose standard error is 1 whatever the count.
 * Source: Anscombe, Biometrika 35 (1948): 2√(N + 3/8).
 */
export function stabilised(count: number): number {
  return 2 * Math.sqrt(count + 3 / 8);
}
