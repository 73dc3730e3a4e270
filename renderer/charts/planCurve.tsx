import { useMemo } from 'react';
import type { Plan } from '../../core/sampling/plan.ts';
import { planChance, planQuality, shownPoints } from '../../core/sampling/planOc.ts';
import { axisAround, percentTick } from './axisAround.ts';
import { linePath } from './linePath.ts';
import { Plot, type PlotFrame, type PlotPlaces } from './plot.tsx';

/** The curve is drawn as far as one lot in a hundred is accepted, through so many points. */
const LEAST_CHANCE = 0.01;
const POINTS = 160;

/** The operating characteristic of a plan: chance of acceptance against the share of nonconforming pieces. */
export default function PlanCurve({ plan, lotSize }: { plan: Plan; lotSize: number }) {
  const curve = useMemo(() => {
    const axis = axisAround(0, 100 * planQuality(plan, lotSize, LEAST_CHANCE));
    const to = Math.min(100, axis.to);
    const points = Array.from({ length: POINTS + 1 }, (_, index) => {
      const percent = (index / POINTS) * to;
      return [percent, 100 * planChance(plan, lotSize, percent / 100)] as const;
    });
    return { axis, to, points, shown: shownPoints(plan, lotSize) };
  }, [plan, lotSize]);
  const { axis, to, points, shown } = curve;
  const frame: PlotFrame = {
    x: { from: 0, to, ticks: axis.ticks.filter((at) => at <= to).map((at) => ({ at, text: percentTick(at, axis) })) },
    y: { from: 0, to: 100, ticks: [10, 50, 95].map((at) => ({ at, text: `${at}\u00a0%` })) },
    levels: [
      ...[10, 50, 95].map((at) => ({ on: 'y', at, kind: 'centre' }) as const),
      ...shown
        .map(({ share }) => 100 * share)
        .filter((at) => at <= to)
        .map((at) => ({ on: 'x', at, kind: 'control', words: `${Number(at.toPrecision(2))}\u00a0%` }) as const),
    ],
    bands: [],
    above: 40,
  };
  const layer = useMemo(
    () => (places: PlotPlaces) => (
      <path
        className="chart-line"
        d={linePath(points.map(([x, y]) => [places.x(x), places.y(y)]))}
        {...places.within}
      />
    ),
    [points],
  );
  return (
    <Plot
      frame={frame}
      layer={layer}
      spoken="Share of lots that the plan accepts, falling with the share of their nonconforming pieces. The table below has the curve."
    />
  );
}
