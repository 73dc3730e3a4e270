import gammaln from '@stdlib/math-base-special-gammaln';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { integral } from './gaussLegendre.ts';

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
    const [from, to] = [inside[i - 1] as number, inside[i] as number];
    probability += integral(from, to, (s) => density(s) * normalCdf(t * s - noncentrality, 0, 1));
  }
  return Math.min(1, Math.max(0, probability));
}

/**
 * The t that T stays at or under with this probability, about as exact as the distribution. By regula falsi in the form called
 * Illinois, which asks for the distribution, the slow part, about ten times.
 * Source: Dowell and Jarratt, BIT 11 (1971), 168.
 * @param probability above 0, below 1
 */
export function noncentralTQuantile(probability: number, degreesOfFreedom: number, noncentrality: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError(`quantile of ${probability}`);
  const excess = (t: number) => noncentralTCdf(t, degreesOfFreedom, noncentrality) - probability;
  let step = 1 + Math.abs(noncentrality) / Math.sqrt(degreesOfFreedom);
  let near = noncentrality;
  let atNear = excess(near);
  const way = atNear < 0 ? 1 : -1;
  let far = near + way * step;
  let atFar = excess(far);
  while (atFar * way < 0) {
    [near, atNear] = [far, atFar];
    step *= 2;
    far += way * step;
    atFar = excess(far);
  }
  // From here on `far` is the newest, and the quantile lies between the two.
  while (atFar !== 0) {
    const next = far - (atFar * (near - far)) / (atNear - atFar);
    if (Math.abs(next - far) <= SURE * Math.max(1, Math.abs(next))) return next;
    const atNext = excess(next);
    // Halved where the same end stays twice, so that it does not stay for ever.
    if (atNext * atFar < 0) [near, atNear] = [far, atFar];
    else atNear /= 2;
    [far, atFar] = [next, atNext];
  }
  return far;
}

/** Steps this small, relative to t, move no digit that the distribution gives. */
const SURE = 1e-12;

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
