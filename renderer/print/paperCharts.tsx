import { useMemo } from 'react';
import { wantedPieces } from '../../core/inspection/outlook.ts';
import type { Run } from '../../core/inspection/run.ts';
import { LEAST_FOR_CURVE } from '../../core/statistics/expectedCount.ts';
import { Histogram } from '../charts/histogram.tsx';
import type { Plotted } from '../charts/plot.tsx';
import { drawnOf, RunChart } from '../charts/runChart.tsx';
import { RunSeries } from '../charts/runSeries.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { formatCount } from '../words/count.ts';
import { StaticPlot } from './staticPlot.tsx';

const RunPlot = (plotted: Plotted) => <StaticPlot {...plotted} height={220} />;
const HistogramPlot = (plotted: Plotted) => <StaticPlot {...plotted} height={190} />;

/** The run chart and the histogram of a certificate, drawn once. */
export function PaperCharts({ run }: { run: Run }) {
  const { series, view, drawn, guard, curve } = useMemo(() => {
    const series = new RunSeries(run);
    while (!series.takeIn(run));
    const view = { from: 1, to: Math.max(2, wantedPieces(run), series.line.size) };
    const fitted = series.fitted();
    return {
      series,
      view,
      drawn: drawnOf(series, view),
      guard: guardOf(run),
      curve: fitted && fitted.n >= LEAST_FOR_CURVE ? fitted : null,
    };
  }, [run]);
  const { toKeep } = drawn.left;
  const left =
    toKeep > drawn.marks.length
      ? `; ${formatCount(drawn.marks.length)} of ${formatCount(toKeep)} of them have a mark, the outermost of each stretch`
      : '';
  return (
    <section className="paper-section paper-charts" aria-label="Charts">
      <figure>
        <figcaption>
          Readings in order, the band is the window; those outside it, open or suspect carry the mark of their verdict
          {left}.
        </figcaption>
        <RunChart
          series={series}
          version={series.version}
          drawn={drawn}
          view={view}
          window={run.window}
          guard={guard}
          plot={RunPlot}
        />
      </figure>
      <figure>
        <figcaption>
          How many readings that count lie at each value, between the limits and beyond them
          {curve ? '; the line is the normal distribution of their mean and standard deviation' : ''}.
        </figcaption>
        <Histogram
          counts={series.bins}
          version={series.version}
          fitted={curve}
          window={run.window}
          guard={guard}
          plot={HistogramPlot}
        />
      </figure>
    </section>
  );
}
