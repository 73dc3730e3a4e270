import { useMemo } from 'react';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import { showOhms } from '../../core/quantity/formatOhms.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { standingOf, VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { readingText, unitValue } from '../words/ohms.ts';
import { formatTime } from '../words/time.ts';
import { ChartTable } from './chartTable.tsx';
import { binsOf, Histogram } from './histogram.tsx';
import type { Bin } from './histogramBins.ts';
import { RunChart } from './runChart.tsx';
import { useCoalesced } from './useCoalesced.ts';

/**
 * Charts are redrawn at most five times a second; the figure and the verdict never wait for them. The two take turns, so
 * that neither holds the screen for long.
 */
const REDRAW_MILLISECONDS = { runChart: 200, histogram: 290 };

/** The run chart and the histogram of a run, each also as a table. */
export default function Charts({ run }: { run: Run }) {
  return (
    <div className="charts">
      <RunFigure run={run} />
      <HistogramFigure run={run} />
    </div>
  );
}

/** The run as it was at the last redraw: all readings, those that are not void, those that count, and the guard bands. */
function useDrawn(run: Run, milliseconds: number) {
  const seen = useCoalesced(run, milliseconds);
  const all = seen.readings;
  const guard = useMemo(() => guardOf(seen), [seen]);
  const drawn = useMemo(() => all.filter((reading) => !reading.voided).toArray(), [all]);
  const counting = useMemo(() => drawn.filter(counts), [drawn]);
  return { all, drawn, counting, guard };
}

function RunFigure({ run }: { run: Run }) {
  const { all, drawn, guard } = useDrawn(run, REDRAW_MILLISECONDS.runChart);
  return (
    <figure className="chart">
      <figcaption>Readings in order</figcaption>
      <RunChart readings={drawn} window={run.window} guard={guard} sampleSize={run.plan.sampleSize} />
      <ChartTable title="Readings as a table">{() => <ReadingsTable readings={all.toArray()} run={run} />}</ChartTable>
    </figure>
  );
}

function HistogramFigure({ run }: { run: Run }) {
  const { counting, guard } = useDrawn(run, REDRAW_MILLISECONDS.histogram);
  return (
    <figure className="chart">
      <figcaption>How many at each value</figcaption>
      <Histogram readings={counting} window={run.window} guard={guard} />
      <ChartTable title="Counts as a table">
        {() => <CountsTable bins={binsOf(counting, run.window).bins} run={run} />}
      </ChartTable>
    </figure>
  );
}

function ReadingsTable({ readings, run }: { readings: readonly Reading[]; run: Run }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Reading</th>
          <th scope="col">Piece</th>
          <th scope="col">Value</th>
          <th scope="col">Verdict</th>
          <th scope="col">Taken</th>
        </tr>
      </thead>
      <tbody>
        {readings.toReversed().map((reading) => (
          <tr key={reading.reading}>
            <th scope="row">{reading.reading}</th>
            <td>{reading.piece}</td>
            <td className="figures">{readingText(reading, run.window)}</td>
            <td>
              {reading.voided ? (
                <span className="quiet">
                  voided by {reading.voided.by}: {reading.voided.reason}
                </span>
              ) : (
                <>
                  <VerdictMark verdict={standingOf(reading)} /> {VERDICT_WORDS[standingOf(reading)]}
                  {reading.suspect && (
                    <span className="quiet">, read as {VERDICT_WORDS[reading.verdict].toLowerCase()}</span>
                  )}
                </>
              )}
            </td>
            <td className="quiet">{formatTime(reading.at)}</td>
          </tr>
        ))}
      </tbody>
    </table>
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
            <td className="figures">{bin.count}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
