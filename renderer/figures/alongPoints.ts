import { Thinned } from '../../core/chart/thinned.ts';
import { CUSUM_LIMIT, CUSUM_SLACK, Cusum } from '../../core/statistics/cusum.ts';
import { type Baseline, EWMA_LIMITS, Ewma } from '../../core/statistics/ewma.ts';
import type { TheilSen } from '../../core/statistics/theilSen.ts';
import type { LotFigures } from './lotFigures.ts';

/** What a chart along the reel is drawn from. The points of all lines stand at the same places, one for each reading. */
export interface Along {
  /** One line or two. What is kept in them is where each signal begins. */
  lines: readonly Thinned[];
  /** The limits at each point, where they change along the chart. */
  bounds: readonly Thinned[];
  /** Of each reading, whether it is a signal. */
  out: readonly boolean[];
}

type Values = Pick<LotFigures, 'values' | 'places'>;

/** Single readings; a signal where one lies beyond three standard deviations. */
export function singlesAlong({ values, places }: Values, baseline: Baseline): Along {
  const line = new Thinned(values.length);
  const out = values.map((value) => Math.abs(value - baseline.centre) > EWMA_LIMITS * baseline.spread);
  values.forEach((value, index) => {
    line.append(places[index] as number, value, begins(out, index));
  });
  return { lines: [line], bounds: [], out };
}

/** The moving average with its limits. */
export function ewmaAlong({ values, places }: Values, baseline: Baseline): Along {
  const ewma = new Ewma(baseline);
  const line = new Thinned(values.length);
  const [lowers, uppers] = [new Thinned(values.length), new Thinned(values.length)];
  const out: boolean[] = [];
  values.forEach((reading, index) => {
    const { value, lower, upper } = ewma.add(reading);
    const place = places[index] as number;
    out.push(value < lower || value > upper);
    line.append(place, value, begins(out, index));
    lowers.append(place, lower, false);
    uppers.append(place, upper, false);
  });
  return { lines: [line], bounds: [lowers, uppers], out };
}

/** The two sums, the one below the centre drawn downwards. */
export function cusumAlong({ values, places }: Values, { centre, spread }: Baseline): Along {
  const cusum = new Cusum(centre, CUSUM_SLACK * spread);
  const limit = CUSUM_LIMIT * spread;
  const lines = [new Thinned(values.length), new Thinned(values.length)] as const;
  const out: boolean[] = [];
  values.forEach((reading, index) => {
    const { above, below } = cusum.add(reading);
    const place = places[index] as number;
    out.push(above > limit || below > limit);
    const isSignal = begins(out, index);
    lines[0].append(place, above, isSignal && above > limit);
    lines[1].append(place, -below, isSignal && below > limit);
  });
  return { lines, bounds: [], out };
}

/** The straight line of a trend at a place along the reel. An open piece has no point, but it has its place. */
export function trendAt({ slope, at }: TheilSen, place: number): number {
  return at.value + slope * (place - at.position);
}

/** Whether a signal begins at a reading and is not the last one going on. */
function begins(out: readonly boolean[], index: number): boolean {
  return out[index] === true && out[index - 1] !== true;
}
