import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { ohmsText } from './causeWords.ts';
import type { LotSeen, Seen } from './lotSeen.ts';
import type { LotExplained } from './oddLot.ts';

/** With fewer pieces a step or slope says little. Our choice. */
const LEAST_PIECES = 12;
/** A step has at least so many pieces on each side. */
const LEAST_SIDE = 4;
/** Pieces further off count as if they were here, so that strays make no step: so many standard deviations. */
const FARTHEST = 4;
/** Neighbours differ by √2 standard deviations; the median of a difference is 0.6745 of one. */
const NEIGHBOURS = Math.SQRT2 * 0.6745;
/** How many standard errors a step, looked for everywhere, and a slope must be from none: chance makes less in 9999 of 10 000 lots. */
const STEP_ERRORS = 5;
const SLOPE_ERRORS = 4.2;
/** So much less of either part than two normal lots would have may lie on its own side. Our choice. */
const SIDES_MISSED = 0.2;
/** A fit whose squares are so much likelier (twice the logarithm of likelihood) is told from the other. */
const TOLD_APART = 4;

/** What changes along the reel: a step where two were spliced, or a slope. */
export function reelCauses(lot: LotSeen): LotExplained[] {
  const { along, median, noise } = lot;
  if (along.length < LEAST_PIECES) return [];
  const neighbours = localSpread(along);
  // Where most neighbours are equal, the meter's step is all that is seen.
  if (neighbours === 0) return [];
  const local = Math.max(noise / 10, neighbours);
  const values = along.map(({ ohms }) => ohms);
  const fitted = fitsOf(winsorised(values, median, local), along, local);
  const { step, line } = fitted;
  const isStep = Math.abs(step.errors) > STEP_ERRORS * (1 + 4 / along.length) && keepsItsSides(step, values, local);
  const isLine = Math.abs(line.errors) > SLOPE_ERRORS;
  if (!isStep && !isLine) return [];
  const likelier = along.length * Math.log(line.squares / step.squares);
  const causes: LotExplained[] = [];
  const alike = Math.abs(likelier) < TOLD_APART;
  if (isStep && (likelier > 0 || alike)) causes.push(spliced(step, along, local, alike ? 0.85 : 0.92));
  if (isLine && (likelier < 0 || alike)) causes.push(...trend(line, lot, local, alike ? 0.85 : 0.9));
  return causes;
}

interface Step {
  /** Pieces before it. */
  before: number;
  low: number;
  high: number;
  errors: number;
  squares: number;
}

interface Line {
  /** Ohms from the first piece to the last. */
  rise: number;
  errors: number;
  squares: number;
}

/** Whether pieces lie with their own part of the reel as two lots would: of two mixed values some lie with the other one. */
function keepsItsSides({ before, low, high }: Step, values: readonly number[], local: number): boolean {
  const middle = (low + high) / 2;
  const rightly = (part: readonly number[], mean: number) =>
    part.filter((ohms) => ohms > middle === mean > middle).length / part.length;
  const expected = normalCdf(Math.abs(high - low) / (2 * local), 0, 1);
  const least = Math.min(rightly(values.slice(0, before), low), rightly(values.slice(before), high));
  return least > expected - SIDES_MISSED;
}

function spliced({ before, low, high }: Step, along: readonly Seen[], local: number, weight: number): LotExplained {
  const [last, next] = [along[before - 1] as Seen, along[before] as Seen];
  return {
    cause: 'spliced reel',
    weight,
    evidence: `Up to position ${last.position} the mean is ${ohmsText(low, 6)} (${before} pieces), from position ${next.position} on ${ohmsText(high, 6)} (${along.length - before} pieces): a step of ${Number((Math.abs(high - low) / local).toPrecision(2))} times what neighbours scatter.`,
    next: `Look at the tape between positions ${last.position} and ${next.position} for a splice, and judge the two parts as lots of their own.`,
  };
}

function trend({ rise }: Line, { along, lot }: LotSeen, local: number, weight: number): LotExplained[] {
  const [first, last] = [along[0] as Seen, along.at(-1) as Seen];
  const evidence = `From position ${first.position} to ${last.position} the value ${rise > 0 ? 'rises' : 'falls'} by ${ohmsText(Math.abs(rise), 3)}, ${Number((Math.abs(rise) / local).toPrecision(2))} times what neighbours scatter.`;
  const reel: LotExplained = {
    cause: 'trend along the reel',
    weight,
    evidence,
    next: 'Do the check of the reference: where the meter stands still it is the reel. Take pieces from its end before the lot is decided.',
  };
  // Pieces are commonly taken in the order of the reel: then only a reference tells the reel from the meter.
  if (lot.references.length >= 2 || !isInOrderOfTime(along)) return [reel];
  return [
    reel,
    {
      cause: 'meter drift',
      weight: weight - 0.02,
      evidence: `${evidence} The pieces were taken in this order, and no reference was measured before and after that would tell the reel from the meter.`,
      next: 'Do the check of the reference, and take one of the first pieces again: where it reads as it did, it is the reel.',
    },
  ];
}

function isInOrderOfTime(along: readonly Seen[]): boolean {
  const backwards = along.slice(1).filter((one, index) => one.atMilliseconds < (along[index] as Seen).atMilliseconds);
  return backwards.length < along.length / 10;
}

/** A standard deviation by neighbours along the reel, which neither a step nor a slope widens much. */
function localSpread(along: readonly Seen[]): number {
  const steps = along.slice(1).map(({ ohms }, index) => Math.abs(ohms - (along[index] as Seen).ohms));
  steps.sort((a, b) => a - b);
  return (steps[steps.length >> 1] as number) / NEIGHBOURS;
}

/** Values with those beyond a running middle brought near to it: a few pieces far off say nothing of the reel. */
function winsorised(values: readonly number[], median: number, local: number): number[] {
  const half = 7;
  return values.map((value, index) => {
    const around = values.slice(Math.max(0, index - half), index + half + 1).sort((a, b) => a - b);
    const middle = around[around.length >> 1] ?? median;
    const most = FARTHEST * local;
    return Math.max(middle - most, Math.min(middle + most, value));
  });
}

function fitsOf(values: readonly number[], along: readonly Seen[], local: number): { step: Step; line: Line } {
  const n = values.length;
  const sum = values.reduce((total, value) => total + value, 0);
  const mean = sum / n;
  const squares = values.reduce((total, value) => total + (value - mean) ** 2, 0);
  // Exact equality of all values leaves nothing: a floor keeps the ratios finite.
  const floor = n * (local * 1e-3) ** 2 + Number.MIN_VALUE;
  let best: Step = { before: 0, low: mean, high: mean, errors: 0, squares: Math.max(squares, floor) };
  let below = 0;
  for (let k = 1; k < n; k++) {
    below += values[k - 1] as number;
    if (k < LEAST_SIDE || n - k < LEAST_SIDE) continue;
    const [low, high] = [below / k, (sum - below) / (n - k)];
    const left = Math.max(floor, squares - ((k * (n - k)) / n) * (high - low) ** 2);
    if (left >= best.squares) continue;
    const error = Math.sqrt((left / (n - 2)) * (1 / k + 1 / (n - k)));
    best = { before: k, low, high, errors: (high - low) / error, squares: left };
  }
  const places = along.map(({ position }) => position);
  const middle = places.reduce((total, place) => total + place, 0) / n;
  let [xx, xy] = [0, 0];
  for (const [index, place] of places.entries()) {
    xx += (place - middle) ** 2;
    xy += (place - middle) * ((values[index] as number) - mean);
  }
  const slope = xx === 0 ? 0 : xy / xx;
  const left = Math.max(floor, squares - slope * xy);
  const error = xx === 0 ? Number.POSITIVE_INFINITY : Math.sqrt(left / (n - 2) / xx);
  const rise = slope * ((places[n - 1] as number) - (places[0] as number));
  return { step: best, line: { rise, errors: slope / error, squares: left } };
}
