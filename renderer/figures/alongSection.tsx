import { useMemo } from 'react';
import { isShown } from '../../core/drift/reelTrend.ts';
import type { Run } from '../../core/inspection/run.ts';
import { CUSUM_LIMIT, CUSUM_SLACK } from '../../core/statistics/cusum.ts';
import { type Baseline, EWMA_LIMITS, EWMA_WEIGHT, type Signals } from '../../core/statistics/ewma.ts';
import { isRefused, type Refused } from '../../core/statistics/values.ts';
import { ChartTable } from '../charts/chartTable.tsx';
import { type FigureRow, FigureRows, notGiven } from '../figureRows/figureRows.tsx';
import { formatCount } from '../words/count.ts';
import { figureText, percentText, pText, valueText } from '../words/figures.ts';
import { limitText } from '../words/ohms.ts';
import { ohmsFigure, signedOhms } from '../words/ohmsFigure.ts';
import { piecesText } from '../words/pieces.ts';
import { type AlongPoint, cusumPoints, ewmaPoints, MOST_POINTS, readingPoints } from './alongPoints.ts';
import { AlongFigure } from './chartsLater.tsx';
import type { LotFigures } from './lotFigures.ts';

/** Signals named in words; the charts ring more. */
const MOST_NAMED = 8;
const EWMA = 'e-Handbook 6.3.2.4';
const CUSUM = 'e-Handbook 6.3.2.3';

/** How the value moves along the reel, and what that means at its end. */
export function AlongSection({ run, figures }: { run: Run; figures: LotFigures }) {
  const { trend } = figures.analysis;
  const { baseline } = trend;
  return (
    <>
      <p className="look-say">{trend.words}</p>
      <FigureRows
        rows={[
          ...trendRows(figures),
          signalRow('Single readings beyond 3 s', figures, trend.individuals, 'e-Handbook 6.3.2.2'),
          signalRow('Moving average beyond its limits', figures, trend.ewma, EWMA),
          signalRow('Sums beyond their limits', figures, trend.cusum, CUSUM),
        ]}
      />
      {figures.values.length > 1 && (
        <AlongCharts run={run} figures={figures} baseline={isRefused(baseline) ? null : baseline} />
      )}
    </>
  );
}

function trendRows({ analysis: { trend } }: LotFigures): FigureRow[] {
  const { mannKendall, slope } = trend;
  const test = 'Mann 1945; Kendall 1975';
  const sen = 'Theil 1950; Sen 1968';
  return [
    isRefused(mannKendall)
      ? notGiven('Trend, Mann-Kendall', mannKendall, test)
      : {
          name: 'Trend, Mann-Kendall',
          value: `p ${mannKendall.p < 0.001 ? '' : '= '}${pText(mannKendall.p)}`,
          words: `${isShown(trend) ? 'a trend is shown' : 'no trend is shown'}; S ${signed(mannKendall.s)}, tau ${signed(mannKendall.tau)}, ${mannKendall.exact ? 'exact' : 'by the normal distribution'}`,
          source: test,
        },
    isRefused(slope)
      ? notGiven('Slope, Theil-Sen', slope, sen)
      : {
          name: 'Slope, Theil-Sen',
          value: `${signedOhms(slope.slope * 1000, { significant: 3 })} in 1\u00a0000 pieces`,
          words: `${signedOhms(slope.lower * 1000, { significant: 3 })} to ${signedOhms(slope.upper * 1000, { significant: 3 })} with ${percentText(slope.confidence)} confidence; ${
            slope.everyPair
              ? 'median over all pairs'
              : `median over ${formatCount(slope.pairs)} of the pairs, within ±${ohmsFigure(slope.slopeError * 1000, { significant: 2 })}`
          }`,
          source: sen,
        },
  ];
}

function signed(value: number): string {
  return figureText(value).replace('-', '−');
}

function signalRow(name: string, { pieces }: LotFigures, found: Signals | Refused, source: string): FigureRow {
  if (isRefused(found)) return notGiven(name, found, source);
  const { count, places, byChance } = found;
  const chance = `chance alone makes about ${figureText(byChance, 2)} of them in so many readings`;
  const named = places.slice(0, MOST_NAMED).map((place) => pieces[place] as number);
  const more = count > named.length ? ' and more' : '';
  const which = count === 0 ? '' : `at piece ${piecesText(named)}${more}; `;
  return { name, value: count === 0 ? 'none' : formatCount(count), words: `${which}${chance}`, source };
}

function AlongCharts({ run, figures, baseline }: { run: Run; figures: LotFigures; baseline: Baseline | null }) {
  const { window } = run;
  const { trend } = figures.analysis;
  const line = isShown(trend) && !isRefused(trend.slope) ? trend.slope : null;
  const readings = useMemo(() => readingPoints(figures, line, baseline), [figures, line, baseline]);
  const averages = useMemo(() => (baseline ? ewmaPoints(figures, baseline) : []), [figures, baseline]);
  const sums = useMemo(() => (baseline ? cusumPoints(figures, baseline) : []), [figures, baseline]);
  const n = figures.values.length;
  const spread = baseline?.spread ?? null;
  const value = (ohms: number) => valueText(ohms, window, spread);
  const limits = [
    window.lower !== null && {
      at: Number(window.lower),
      words: `lower limit ${limitText(window.lower, window)}`,
      kind: 'limit' as const,
    },
    window.upper !== null && {
      at: Number(window.upper),
      words: `upper limit ${limitText(window.upper, window)}`,
      kind: 'limit' as const,
    },
  ].filter((level) => level !== false);
  const last = averages.at(-1);
  return (
    <>
      <AlongFigure
        title={`Readings along the reel, against the window${line ? '; dashed: the trend' : ''}${baseline ? '; ringed: where it goes beyond 3 s' : ''}`}
        points={readings}
        levels={limits}
        spoken={`${n} readings in the order of their pieces against the window.${line ? ' The line of the trend is drawn.' : ''} The table below has the values.`}
        table={<PointsTable points={readings} n={n} columns={[['Value', ({ value: ohms }) => value(ohms)]]} />}
      />
      {baseline && last && (
        <>
          <AlongFigure
            title={`Moving average (EWMA, λ = ${EWMA_WEIGHT}, limits of ${EWMA_LIMITS} standard deviations of it); ringed: where it goes beyond one`}
            points={averages}
            levels={[
              { at: last.upper as number, words: `upper limit ${value(last.upper as number)}`, kind: 'moves' },
              { at: baseline.centre, words: `mean ${value(baseline.centre)}`, kind: 'centre' },
              { at: last.lower as number, words: `lower limit ${value(last.lower as number)}`, kind: 'moves' },
            ]}
            spoken={`Exponentially weighted moving average of ${n} readings between its limits ${value(last.lower as number)} and ${value(last.upper as number)}. The table below has the values.`}
            table={
              <PointsTable
                points={averages}
                n={n}
                columns={[
                  ['Average', (point) => value(point.value)],
                  ['Lower limit', (point) => value(point.lower as number)],
                  ['Upper limit', (point) => value(point.upper as number)],
                ]}
              />
            }
          />
          <CusumFigure points={sums} baseline={baseline} n={n} />
          <p className="quiet small">
            All against the mean {value(baseline.centre)} and the spread of neighbours{' '}
            {ohmsFigure(baseline.spread, { significant: 3 })} (mean moving range / 1.128, e-Handbook 6.3.2.2). Mean and
            spread are those of these very readings. Pieces count as taken one after the other from the reel.
          </p>
        </>
      )}
    </>
  );
}

function CusumFigure({ points, baseline, n }: { points: readonly AlongPoint[]; baseline: Baseline; n: number }) {
  const limit = CUSUM_LIMIT * baseline.spread;
  const text = ohmsFigure(limit, { significant: 3 });
  const sum = (ohms: number) => ohmsFigure(ohms, { significant: 3, like: limit });
  return (
    <AlongFigure
      title={`Sums above and below the mean (CUSUM, k = ${CUSUM_SLACK} s, h = ${CUSUM_LIMIT} s); ringed: where one goes beyond its limit`}
      points={points}
      levels={[
        { at: limit, words: `limit above ${text}`, kind: 'limit' },
        { at: 0, words: 'mean', kind: 'centre' },
        { at: -limit, words: `limit below ${text}`, kind: 'limit' },
      ]}
      spoken={`Cumulative sums above and below the mean of ${n} readings, limit ${text} each way. The table below has the values.`}
      table={
        <PointsTable
          points={points}
          n={n}
          columns={[
            ['Sum above', (point) => sum(point.value)],
            ['Sum below', (point) => sum(Math.abs(point.second ?? 0))],
          ]}
        />
      }
    />
  );
}

type Column = readonly [title: string, text: (point: AlongPoint) => string];

function PointsTable({ points, n, columns }: { points: readonly AlongPoint[]; n: number; columns: readonly Column[] }) {
  return (
    <ChartTable title="Values as a table">
      {() => (
        <table>
          {points.length < n && (
            <caption className="quiet small">
              {formatCount(points.length)} of {formatCount(n)} points, as drawn: about {MOST_POINTS}, of each stretch
              the lowest and the highest.
            </caption>
          )}
          <thead>
            <tr>
              <th scope="col">Piece</th>
              {columns.map(([title]) => (
                <th key={title} scope="col">
                  {title}
                </th>
              ))}
              <th scope="col">Signal</th>
            </tr>
          </thead>
          <tbody>
            {points.map((point) => (
              <tr key={point.piece}>
                <th scope="row">{formatCount(point.piece)}</th>
                {columns.map(([title, text]) => (
                  <td key={title} className="figures">
                    {text(point)}
                  </td>
                ))}
                <td>{point.out ? 'beyond' : ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </ChartTable>
  );
}
