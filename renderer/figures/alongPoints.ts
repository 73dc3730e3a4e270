import { CUSUM_LIMIT, CUSUM_SLACK, Cusum } from '../../core/statistics/cusum.ts';
import { type Baseline, Ewma } from '../../core/statistics/ewma.ts';
import type { TheilSen } from '../../core/statistics/theilSen.ts';
import { type Thinnable, thin } from '../charts/thin.ts';
import type { LotFigures } from './lotFigures.ts';

/** A point of a chart along the reel. */
export interface AlongPoint extends Thinnable {
  piece: number;
  /** A second line, where the chart has one. */
  second?: number;
  /** The limits at this point, where they change along the chart. */
  lower?: number;
  upper?: number;
  /** The straight line of the trend. */
  line?: number;
  /** Whether it is a signal. */
  out: boolean;
}

/** A line through more points than this looks no different, and costs. */
export const MOST_POINTS = 500;

type Values = Pick<LotFigures, 'values' | 'pieces'>;

/** The readings themselves, with the line of the trend where there is one. */
export function readingPoints(
  { values, pieces }: Values,
  slope: TheilSen | null,
  baseline: Baseline | null,
): readonly AlongPoint[] {
  return thin(
    values.map((value, index) => {
      const piece = pieces[index] as number;
      return {
        piece,
        value,
        kept: false,
        out: baseline !== null && Math.abs(value - baseline.centre) > 3 * baseline.spread,
        // An open piece has no point, but it has its place.
        ...(slope && { line: slope.at.value + slope.slope * (piece - slope.at.position) }),
      };
    }),
    MOST_POINTS,
  );
}

/** The moving average with its limits. */
export function ewmaPoints({ values, pieces }: Values, baseline: Baseline): readonly AlongPoint[] {
  const ewma = new Ewma(baseline);
  return thin(
    values.map((reading, index) => {
      const { value, lower, upper } = ewma.add(reading);
      return { piece: pieces[index] as number, value, lower, upper, kept: false, out: value < lower || value > upper };
    }),
    MOST_POINTS,
  );
}

/** The two sums, the one below the centre drawn downwards. */
export function cusumPoints({ values, pieces }: Values, { centre, spread }: Baseline): readonly AlongPoint[] {
  const cusum = new Cusum(centre, CUSUM_SLACK * spread);
  const limit = CUSUM_LIMIT * spread;
  const points = values.map((reading, index) => {
    const { above, below } = cusum.add(reading);
    // Whichever has gathered more is what must not be thinned away.
    const value = above >= below ? above : -below;
    return { piece: pieces[index] as number, value, above, below, kept: false, out: above > limit || below > limit };
  });
  return thin(points, MOST_POINTS).map(({ piece, above, below, kept, out }) => ({
    piece,
    value: above,
    second: -below,
    kept,
    out,
  }));
}
