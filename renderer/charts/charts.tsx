import { useMemo } from 'react';
import { wantedPieces } from '../../core/inspection/outlook.ts';
import type { Run } from '../../core/inspection/run.ts';
import { showOhms } from '../../core/quantity/formatOhms.ts';
import { LEAST_FOR_CURVE } from '../../core/statistics/expectedCount.ts';
import type { Guard } from '../windowBar/guardBands.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { windowScale } from '../windowBar/windowScale.ts';
import { formatCount } from '../words/count.ts';
import { unitValue } from '../words/ohms.ts';
import { ChartFrame } from './chartFrame.tsx';
import { ChartsAbout } from './chartPicture.tsx';
import { ChartsToCome } from './chartsToCome.tsx';
import { ChartTable } from './chartTable.tsx';
import { Histogram } from './histogram.tsx';
import type { Bin } from './histogramBins.ts';
import { outlineOf } from './outline.ts';
import { ReadingsTable } from './readingsTable.tsx';
import { drawnOf, RunChart } from './runChart.tsx';
import { type Drawn, useRunSeries } from './useRunSeries.ts';
import { useView } from './useView.ts';
import { WORTH_ZOOMING, ZoomStrip } from './zoomStrip.tsx';

/** Charts are redrawn two or three times a second; the figure and the verdict never wait for them. */
const REDRAW_MILLISECONDS = 400;

type Figure = Drawn & { guard: Guard };

/** The run chart and the histogram of a run, each also as a table. */
export default function Charts({ run }: { run: Run }) {
  const drawn = useRunSeries(run, REDRAW_MILLISECONDS);
  return drawn === null ? <ChartsToCome /> : <DrawnCharts {...drawn} />;
}

function DrawnCharts(drawn: Drawn) {
  const { run } = drawn;
  const guard = useMemo(() => guardOf(run), [run]);
  return (
    <ChartsAbout value={aboutRun(run)}>
      <div className="charts">
        <RunFigure {...drawn} guard={guard} />
        <HistogramFigure {...drawn} guard={guard} />
      </div>
    </ChartsAbout>
  );
}

/** Which lot a chart is of, for its picture. */
export function aboutRun({ part, lot }: Pick<Run, 'part' | 'lot'>): string {
  return `${part.number}, lot ${lot.number}`;
}

function RunFigure({ run, series, version, guard }: Figure) {
  const { whole, view, look } = useView(1, Math.max(2, wantedPieces(run), series.line.size));
  // biome-ignore lint/correctness/useExhaustiveDependencies: the series changes in place, and its version with it
  const drawn = useMemo(() => drawnOf(series, view), [series, version, view]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: likewise
  const outline = useMemo(
    () => outlineOf(series.line, whole, windowScale(run.window)),
    [series, version, whole, run.window],
  );
  const { toKeep } = drawn.left;
  return (
    <ChartFrame
      title="Readings in order"
      note={
        series.line.size === 0
          ? 'Each reading will be a point of this line, in the order they are taken; the band is the window.'
          : null
      }
      table={<ChartTable title="Readings as a table">{() => <ReadingsTable run={run} />}</ChartTable>}
    >
      <RunChart series={series} version={version} drawn={drawn} view={view} window={run.window} guard={guard} />
      {series.line.size > WORTH_ZOOMING && (
        <ZoomStrip
          what="readings"
          whole={whole}
          view={view}
          onView={look}
          outline={outline}
          note={
            toKeep > drawn.marks.length
              ? `; ${formatCount(drawn.marks.length)} of ${formatCount(toKeep)} that are out of the window or suspect are marked, the outermost of each stretch`
              : ''
          }
        />
      )}
    </ChartFrame>
  );
}

function HistogramFigure({ run, series, version, guard }: Figure) {
  // biome-ignore lint/correctness/useExhaustiveDependencies: likewise
  const curve = useMemo(() => {
    const found = series.fitted();
    return found && found.n >= LEAST_FOR_CURVE ? found : null;
  }, [series, version]);
  return (
    <ChartFrame
      title={curve ? 'How many at each value; line: normal distribution' : 'How many at each value'}
      note={series.bins.n === 0 ? 'Each reading will raise the bar of its value.' : null}
      table={
        <ChartTable title="Counts as a table">{() => <CountsTable bins={series.bins.bins} run={run} />}</ChartTable>
      }
    >
      <Histogram counts={series.bins} version={version} fitted={curve} window={run.window} guard={guard} />
    </ChartFrame>
  );
}

function CountsTable({ bins, run }: { bins: readonly Bin[]; run: Run }) {
  const edge = (ohms: number | null) => {
    if (ohms === null) return '';
    const { figures, unit } = showOhms(ohms.toPrecision(6), { like: unitValue(run.window) });
    return `${figures}\u00a0${unit}`;
  };
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">From</th>
          <th scope="col">To</th>
          <th scope="col">Readings</th>
        </tr>
      </thead>
      <tbody>
        {bins.map((bin) => (
          <tr key={`${bin.from} ${bin.to}`}>
            <td className="figures">{bin.from === null ? 'below' : edge(bin.from)}</td>
            <td className="figures">{bin.to === null ? 'and above' : edge(bin.to)}</td>
            <td className="figures">{formatCount(bin.count)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
