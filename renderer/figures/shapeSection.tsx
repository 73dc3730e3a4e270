import { limitsOf } from '../../core/inspection/analysisOfRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { capital } from '../../core/quantity/sentence.ts';
import type { Bins } from '../../core/statistics/bins.ts';
import { type FittedNormal, LEAST_FOR_CURVE } from '../../core/statistics/expectedCount.ts';
import type { Evidence } from '../../core/statistics/shape.ts';
import { summaryOf } from '../../core/statistics/summary.ts';
import { isRefused } from '../../core/statistics/values.ts';
import { ChartTable } from '../charts/chartTable.tsx';
import { formatCount } from '../words/count.ts';
import { figureText, valueText } from '../words/figures.ts';
import { limitText } from '../words/ohms.ts';
import { BinsFigure } from './chartsLater.tsx';
import { drawnBins } from './drawnBins.ts';
import type { LotFigures } from './lotFigures.ts';

/** What the lot looks like and what that says of it. */
export function ShapeSection({ run, figures }: { run: Run; figures: LotFigures }) {
  const { window } = run;
  const { shape, bins, summary } = figures.analysis;
  if (isRefused(bins) || isRefused(summary)) return <p>Without readings there is no shape.</p>;
  const drawn = drawnBins(bins, limitsOf(window));
  const fitted = fittedTo(figures.values, bins);
  const off = [
    !drawn.showsLower && window.lower !== null && `the lower limit ${limitText(window.lower, window)}`,
    !drawn.showsUpper && window.upper !== null && `the upper limit ${limitText(window.upper, window)}`,
  ].filter((text) => text !== false);
  return (
    <>
      <p className="look-say">{shape.words}</p>
      <BinsFigure
        title={`How many readings at each value${fitted ? '; line: normal distribution of these' : ''}`}
        bins={drawn}
        fitted={fitted}
        window={window}
        n={summary.n}
        table={<ChartTable title="Counts as a table">{() => <CountsTable bins={bins} run={run} />}</ChartTable>}
      />
      {[...bins.notes, ...(off.length > 0 ? [`Too far off to be drawn: ${off.join(' and ')}.`] : [])].map((note) => (
        <p key={note}>{note}</p>
      ))}
      {shape.evidence.length > 0 && (
        <>
          <h3>What this rests on</h3>
          <EvidenceTable run={run} evidence={shape.evidence} spread={summary.standardDeviation} />
        </>
      )}
      <p className="quiet small">
        Width of the bins by Freedman and Diaconis (1981), rounded to whole steps of the meter. The critical values are
        from our own simulation of normal lots: about 1 normal lot in 100 is taken for something else.
        {shape.evidence.some(({ name }) => name.startsWith('skewness')) &&
          ' Skewness or kurtosis alone says little: A² must be beyond its bound too.'}
      </p>
    </>
  );
}

/** The normal distribution of the readings that are drawn; null where they are few or all equal. */
function fittedTo(values: readonly number[], { edges }: Bins): FittedNormal | null {
  const [from, to] = [edges[0] as number, edges.at(-1) as number];
  const summary = summaryOf(values.filter((value) => value >= from && value < to));
  if (isRefused(summary) || !summary.standardDeviation || summary.n < LEAST_FOR_CURVE) return null;
  return { mean: summary.mean, standardDeviation: summary.standardDeviation, n: summary.n };
}

function CountsTable({ bins, run }: { bins: Bins; run: Run }) {
  const { edges, counts, below, above, width } = bins;
  const edge = (at: number) => valueText(at, run.window, width * 10);
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">From</th>
          <th scope="col">To below</th>
          <th scope="col">Readings</th>
        </tr>
      </thead>
      <tbody>
        {below > 0 && <Far words="further below" count={below} />}
        {counts.map((count, index) => (
          <tr key={edges[index]}>
            <td className="figures">{edge(edges[index] as number)}</td>
            <td className="figures">{edge(edges[index + 1] as number)}</td>
            <td className="figures">{formatCount(count)}</td>
          </tr>
        ))}
        {above > 0 && <Far words="further above" count={above} />}
      </tbody>
    </table>
  );
}

function Far({ words, count }: { words: string; count: number }) {
  return (
    <tr>
      <td colSpan={2}>{words}</td>
      <td className="figures">{formatCount(count)}</td>
    </tr>
  );
}

function EvidenceTable(props: { run: Run; evidence: readonly Evidence[]; spread: number | null }) {
  const { run, evidence, spread } = props;
  const text = (value: number, isReading: boolean) =>
    (isReading ? valueText(value, run.window, spread) : figureText(value)).replace('-', '−');
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen the table is wider and moves by the arrow keys
    <section className="look-table" aria-label="What the shape rests on" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Found</th>
            <th scope="col">For a normal lot</th>
          </tr>
        </thead>
        <tbody>
          {evidence.map(({ name, value, critical, isReading }) => {
            const [, what = name, bound] = /^(.*), (at most|at least)$/.exec(name) ?? [];
            return (
              <tr key={name}>
                <th scope="row">{capital(what)}</th>
                <td className="figures">{text(value, isReading)}</td>
                <td className="figures">
                  {critical === null ? '' : `${bound ?? ''} ${text(critical, isReading)}`.trim()}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
