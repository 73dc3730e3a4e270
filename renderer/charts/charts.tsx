import { type ReactNode, useMemo, useState } from 'react';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { showOhms } from '../../core/quantity/formatOhms.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { readingText, unitValue } from '../words/ohms.ts';
import { formatTime } from '../words/time.ts';
import { binsOf, Histogram } from './histogram.tsx';
import type { Bin } from './histogramBins.ts';
import { RunChart } from './runChart.tsx';
import { useCoalesced } from './useCoalesced.ts';

/** Charts are redrawn at most five times a second; the figure and the verdict never wait for them. */
const REDRAW_MILLISECONDS = 200;

/** The run chart and the histogram of a run, each also as a table. */
export default function Charts({ run }: { run: Run }) {
  const all = useCoalesced(run.readings, REDRAW_MILLISECONDS);
  const readings = useMemo(() => all.filter((reading) => !reading.voided).toArray(), [all]);
  const { window } = run;
  return (
    <div className="charts">
      <figure className="chart chart-run">
        <figcaption>Readings in order</figcaption>
        <RunChart readings={readings} window={window} sampleSize={run.plan.sampleSize} />
        <Table title="Readings as a table">{() => <ReadingsTable readings={all.toArray()} run={run} />}</Table>
      </figure>
      <figure className="chart chart-histogram">
        <figcaption>How they lie</figcaption>
        <Histogram readings={readings} window={window} />
        <Table title="Counts as a table">{() => <CountsTable bins={binsOf(readings, window)} run={run} />}</Table>
      </figure>
    </div>
  );
}

/** The table of a chart; made only when it is opened, since it may be long. */
function Table(props: { title: string; children: () => ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <details className="chart-table" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{props.title}</summary>
      {open && props.children()}
    </details>
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
                  <VerdictMark verdict={reading.verdict} /> {VERDICT_WORDS[reading.verdict]}
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
