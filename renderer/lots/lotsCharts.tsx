import type { LotPoint, LotToLot } from '../../core/drift/lotToLot.ts';
import type { LimitedPoint } from '../../core/statistics/shewhart.ts';
import { ChartFrame } from '../charts/chartFrame.tsx';
import { ControlChart, type ControlPoint } from './controlChart.tsx';

/** Lots a chart shows at most: the latest. The table has them all. */
const MOST_LOTS = 60;

/** The charts of lots: their means with limits, the moving average of the means, their standard deviations. */
export default function LotsCharts({ compared }: { compared: LotToLot }) {
  const points = compared.points.slice(-MOST_LOTS);
  const latest = compared.points.length > MOST_LOTS ? `, the latest ${MOST_LOTS}` : '';
  const charts: [
    title: string,
    of: (point: LotPoint) => LimitedPoint | null,
    value: (point: LotPoint) => number | null,
  ][] = [
    ['Means', ({ mean }) => mean, ({ meanOhms }) => meanOhms],
    ['Moving average of the means', ({ average }) => average, ({ average }) => average?.value ?? null],
    ['Standard deviations', ({ spread }) => spread, ({ standardDeviationOhms }) => standardDeviationOhms],
  ];
  return (
    <div className="lots-charts">
      {charts.map(([title, of, value]) => {
        const drawn = points.map(
          (point): ControlPoint => ({ label: point.label, value: value(point), limits: of(point) }),
        );
        if (drawn.every((point) => point.value === null)) return null;
        return (
          <ChartFrame key={title} title={`${title}${latest}`}>
            <ControlChart title={title} points={drawn} />
          </ChartFrame>
        );
      })}
    </div>
  );
}
