import gammaln from '@stdlib/math-base-special-gammaln';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/**
 * Probability that T = (Z + δ) / √(χ²/ν) is at most t, Z standard normal.
 *
 * Straight from that definition, P(T ≤ t) = ∫ Φ(t·s - δ) f(s) ds with s = √(χ²/ν): the integrand is smooth and never
 * negative, so unlike series in δ²/2 (Lenth, AS 243, Applied Statistics 38 (1989)) it loses nothing at the large δ that
 * thousands of pieces bring. Gauss-Legendre in panels that follow both the bell of f and the step of Φ.
 * @param degreesOfFreedom ν, 1 or more
 * @param noncentrality δ, any finite number
 */
export function noncentralTCdf(t: number, degreesOfFreedom: number, noncentrality: number): number {
  if (!(degreesOfFreedom >= 1) || !Number.isFinite(t) || !Number.isFinite(noncentrality)) {
    throw new RangeError(`noncentral t of ${t} with ${degreesOfFreedom} and ${noncentrality}`);
  }
  const density = rootMeanSquareDensity(degreesOfFreedom);
  const spread = 1 / Math.sqrt(2 * degreesOfFreedom);
  const [least, most] = [Math.max(0, 1 - BELL * spread), 1 + BELL * spread];

  const edges = [least, most];
  for (let i = 1; i < PANELS; i++) edges.push(least + ((most - least) * i) / PANELS);
  // Where t is large, Φ goes from 0 to 1 within a few times 1/t around δ/t.
  if (t !== 0) {
    for (const from of STEP) edges.push((noncentrality + from) / t);
  }
  const inside = edges.filter((edge) => edge >= least && edge <= most).sort((a, b) => a - b);

  let probability = 0;
  for (let i = 1; i < inside.length; i++) {
    const half = ((inside[i] as number) - (inside[i - 1] as number)) / 2;
    if (half === 0) continue;
    const middle = (inside[i - 1] as number) + half;
    for (const [node, weight] of NODES) {
      for (const s of [middle - half * node, middle + half * node]) {
        probability += half * weight * density(s) * normalCdf(t * s - noncentrality, 0, 1);
      }
    }
  }
  return Math.min(1, Math.max(0, probability));
}

/**
 * The t that T stays at or under with this probability, by bisection; as exact as the distribution.
 * @param probability above 0, below 1
 */
export function noncentralTQuantile(probability: number, degreesOfFreedom: number, noncentrality: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError(`quantile of ${probability}`);
  const under = (t: number) => noncentralTCdf(t, degreesOfFreedom, noncentrality) < probability;
  let step = 1 + Math.abs(noncentrality) / Math.sqrt(degreesOfFreedom);
  let low = noncentrality;
  let high = noncentrality;
  for (; !under(low); step *= 2) low -= step;
  for (; under(high); step *= 2) high += step;
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return middle;
    if (under(middle)) low = middle;
    else high = middle;
  }
}

/** Beyond this many standard deviations f is nothing, for a single degree of freedom too (half a normal curve, as wide as 1.4 of these). */
const BELL = 14;
const PANELS = 28;
const STEP = [-9, -6, -4, -2, 0, 2, 4, 6, 9];

/** Density of √(χ²/ν): 2(ν/2)^(ν/2) s^(ν-1) e^(-νs²/2) / Γ(ν/2). */
function rootMeanSquareDensity(degreesOfFreedom: number): (s: number) => number {
  const half = degreesOfFreedom / 2;
  // At s = 1 and relative to it: the logarithms of s and s² cancel near 1, where nearly all of it lies.
  const atOne = Math.LN2 + lnGammaRest(half);
  return (s) => {
    if (s <= 0) return degreesOfFreedom === 1 ? Math.exp(atOne + half) : 0;
    const above = s - 1;
    return Math.exp(atOne + degreesOfFreedom * lnLess(above) - Math.log(s));
  };
}

/** ln(1 + x) - x - x²/2, the exponent of the density per degree of freedom. */
function lnLess(x: number): number {
  return Math.log1p(x) - x - (x * x) / 2;
}

/** half·ln(half) - half - lnΓ(half), by Stirling's series where the plain difference would lose digits. */
function lnGammaRest(half: number): number {
  if (half < 50) return half * Math.log(half) - half - gammaln(half);
  const square = half * half;
  const series = (1 / 12 - (1 / 360 - 1 / (1260 * square)) / square) / half;
  return 0.5 * Math.log(half / (2 * Math.PI)) - series;
}

/** Nodes and weights of Gauss-Legendre with 16 points, one half. Source: Abramowitz and Stegun, table 25.4. */
const NODES: readonly (readonly [node: number, weight: number])[] = [
  [0.09501250983763744, 0.1894506104550685],
  [0.2816035507792589, 0.1826034150449236],
  [0.4580167776572274, 0.1691565193950025],
  [0.6178762444026438, 0.1495959888165767],
  [0.755404408355003, 0.1246289712555339],
  [0.8656312023878318, 0.0951585116824928],
  [0.9445750230732326, 0.0622535239386479],
  [0.9894009349916499, 0.0271524594117541],
];
