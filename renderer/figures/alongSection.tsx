import { useMemo } from 'react';
import type { Thinned } from '../../core/chart/thinned.ts';
import { isShown } from '../../core/drift/reelTrend.ts';
import { placeOf } from '../../core/inspection/analysisOfRun.ts';
import { positionsAreKnown } from '../../core/inspection/positionTaken.ts';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { mostPieces } from '../../core/sampling/plan.ts';
import { CUSUM_LIMIT, CUSUM_SLACK } from '../../core/statistics/cusum.ts';
import { type Baseline, EWMA_LIMITS, EWMA_WEIGHT, type Signals } from '../../core/statistics/ewma.ts';
import type { TheilSen } from '../../core/statistics/theilSen.ts';
import { isRefused, type Refused } from '../../core/statistics/values.ts';
import { ChartTable } from '../charts/chartTable.tsx';
import { PagedTable } from '../charts/pagedTable.tsx';
import { type FigureRow, FigureRows, notGiven } from '../figureRows/figureRows.tsx';
import { standingOf, VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { formatCount } from '../words/count.ts';
import { figureText, percentText, pText, valueText } from '../words/figures.ts';
import { readingText } from '../words/ohms.ts';
import { ohmsFigure, signedOhms } from '../words/ohmsFigure.ts';
import { piecesText } from '../words/pieces.ts';
import { type Along, cusumAlong, ewmaAlong, singlesAlong } from './alongPoints.ts';
import { AlongFigure, ReelMapFigure } from './chartsLater.tsx';
import type { LotFigures } from './lotFigures.ts';
import { reelMapOf } from './reelMapPoints.ts';

/** Signals named in words; the charts ring more. */
const MOST_NAMED = 8;
const EWMA = 'e-Handbook 6.3.2.4';
const CUSUM = 'e-Handbook 6.3.2.3';

/** How the value moves along the reel, and what that means at its end. */
export function AlongSection({ run, figures }: { run: Run; figures: LotFigures }) {
  const { trend } = figures.analysis;
  const { baseline } = trend;
  const places = { places: figures.places, name: placeName(run) };
  return (
    <>
      <p className="look-say">{trend.words}</p>
      <FigureRows
        rows={[
          ...trendRows(figures),
          signalRow('Single readings beyond 3 s', places, trend.individuals, 'e-Handbook 6.3.2.2'),
          signalRow('Moving average beyond its limits', places, trend.ewma, EWMA),
          signalRow('Sums beyond their limits', places, trend.cusum, CUSUM),
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

/** What a place along the reel is: a position, or only the piece that counts as being there. */
function placeName(run: Run): Name {
  return positionsAreKnown(run) ? 'position' : 'piece';
}

type Places = { places: LotFigures['places']; name: Name };

function signalRow(name: string, along: Places, found: Signals | Refused, source: string): FigureRow {
  if (isRefused(found)) return notGiven(name, found, source);
  const { count, places, byChance } = found;
  const chance = `chance alone makes about ${figureText(byChance, 2)} of them in so many readings`;
  const named = places.slice(0, MOST_NAMED).map((index) => along.places[index] as number);
  const more = count > named.length ? ' and more' : '';
  const which = count === 0 ? '' : `at ${along.name} ${piecesText(named)}${more}; `;
  return { name, value: count === 0 ? 'none' : formatCount(count), words: `${which}${chance}`, source };
}

type Name = 'position' | 'piece';

function AlongCharts({ run, figures, baseline }: { run: Run; figures: LotFigures; baseline: Baseline | null }) {
  const { trend } = figures.analysis;
  const line = isShown(trend) && !isRefused(trend.slope) ? trend.slope : null;
  return (
    <>
      <ReelMap run={run} line={line} />
      {baseline && <ControlCharts run={run} figures={figures} baseline={baseline} />}
    </>
  );
}

/** Where on the reel the readings are from, against the window. */
function ReelMap({ run, line }: { run: Run; line: TheilSen | null }) {
  const { window, lot, plan } = run;
  const name = placeName(run);
  const isMap = name === 'position';
  const map = useMemo(() => reelMapOf(run), [run]);
  const guard = useMemo(() => guardOf(run), [run]);
  const n = map.readings.length;
  return (
    <ReelMapFigure
      title={`${isMap ? 'Map of the reel: each reading at its position' : 'Readings along the reel, piece after piece'}, against the window${line ? '; dashed: the trend' : ''}`}
      map={map}
      // Where positions are not known, nothing says how far along the reel the sample reaches.
      end={isMap ? lot.size : mostPieces(plan)}
      window={window}
      guard={guard}
      trend={line}
      what={`${name}s`}
      spoken={`${n} readings ${isMap ? `at their positions on a reel of ${lot.size}` : 'piece after piece'}, against the window.${line ? ' The line of the trend is drawn.' : ''} The table below has the values.`}
      table={
        <AlongTable
          name={name}
          columns={['Value', 'Verdict']}
          count={n}
          place={(index) => placeOf(map.readings[index] as Reading)}
          cells={(index) => {
            const reading = map.readings[index] as Reading;
            return [readingText(reading, window), VERDICT_WORDS[standingOf(reading)]];
          }}
        />
      }
    />
  );
}

function ControlCharts({ run, figures, baseline }: { run: Run; figures: LotFigures; baseline: Baseline }) {
  const { centre, spread } = baseline;
  const name = placeName(run);
  const value = (ohms: number) => valueText(ohms, run.window, spread);
  return (
    <>
      <SinglesFigure figures={figures} baseline={baseline} value={value} name={name} />
      <EwmaFigure figures={figures} baseline={baseline} value={value} name={name} />
      <CusumFigure figures={figures} baseline={baseline} name={name} />
      <p className="quiet small">
        All against the mean {value(centre)} and the spread of neighbours {ohmsFigure(spread, { significant: 3 })} (mean
        moving range / 1.128, e-Handbook 6.3.2.2). Mean and spread are those of these very readings.
        {!positionsAreKnown(run) && ' Pieces count as taken one after the other from the reel.'}
      </p>
    </>
  );
}

interface ControlProps {
  figures: LotFigures;
  baseline: Baseline;
  /** A value as text. */
  value: (ohms: number) => string;
  name: Name;
}

function SinglesFigure({ figures, baseline, value, name }: ControlProps) {
  const along = useMemo(() => singlesAlong(figures, baseline), [figures, baseline]);
  const { centre, spread } = baseline;
  const [lower, upper] = [centre - EWMA_LIMITS * spread, centre + EWMA_LIMITS * spread];
  return (
    <AlongFigure
      title={`Control chart of single readings, limits of ${EWMA_LIMITS} s; ringed: where it goes beyond one`}
      along={along}
      what={`${name}s`}
      levels={[
        { at: upper, words: `control limit ${value(upper)}`, kind: 'control' },
        { at: centre, words: `mean ${value(centre)}`, kind: 'centre' },
        { at: lower, words: `control limit ${value(lower)}`, kind: 'control' },
      ]}
      spoken={`${figures.values.length} single readings between their control limits ${value(lower)} and ${value(upper)}. The table below has the values.`}
      table={
        <SignalsTable
          along={along}
          name={name}
          columns={[['Value', (index) => value(figures.values[index] as number)]]}
        />
      }
    />
  );
}

function EwmaFigure({ figures, baseline, value, name }: ControlProps) {
  const along = useMemo(() => ewmaAlong(figures, baseline), [figures, baseline]);
  const n = figures.values.length;
  const [average, lower, upper] = [along.lines[0], along.bounds[0], along.bounds[1]] as [Thinned, Thinned, Thinned];
  const at = (line: Thinned) => (index: number) => value(line.y(index));
  const [lowest, highest] = [lower.y(n - 1), upper.y(n - 1)];
  return (
    <AlongFigure
      title={`Moving average (EWMA, λ = ${EWMA_WEIGHT}, limits of ${EWMA_LIMITS} standard deviations of it); ringed: where it goes beyond one`}
      along={along}
      what={`${name}s`}
      levels={[
        { at: highest, words: `control limit ${value(highest)}`, kind: 'words-only' },
        { at: baseline.centre, words: `mean ${value(baseline.centre)}`, kind: 'centre' },
        { at: lowest, words: `control limit ${value(lowest)}`, kind: 'words-only' },
      ]}
      spoken={`Exponentially weighted moving average of ${n} readings between its limits ${value(lowest)} and ${value(highest)}. The table below has the values.`}
      table={
        <SignalsTable
          along={along}
          name={name}
          columns={[
            ['Average', at(average)],
            ['Lower limit', at(lower)],
            ['Upper limit', at(upper)],
          ]}
        />
      }
    />
  );
}

function CusumFigure({ figures, baseline, name }: Omit<ControlProps, 'value'>) {
  const along = useMemo(() => cusumAlong(figures, baseline), [figures, baseline]);
  const limit = CUSUM_LIMIT * baseline.spread;
  const text = ohmsFigure(limit, { significant: 3 });
  const sum = (line: Thinned) => (index: number) =>
    ohmsFigure(Math.abs(line.y(index)), { significant: 3, like: limit });
  const [above, below] = along.lines as [Thinned, Thinned];
  return (
    <AlongFigure
      title={`Sums above and below the mean (CUSUM, k = ${CUSUM_SLACK} s, h = ${CUSUM_LIMIT} s); ringed: where one goes beyond its limit`}
      along={along}
      what={`${name}s`}
      levels={[
        { at: limit, words: `limit above ${text}`, kind: 'control' },
        { at: 0, words: 'mean', kind: 'centre' },
        { at: -limit, words: `limit below ${text}`, kind: 'control' },
      ]}
      spoken={`Cumulative sums above and below the mean of ${figures.values.length} readings, limit ${text} each way. The table below has the values.`}
      table={
        <SignalsTable
          along={along}
          name={name}
          columns={[
            ['Sum above', sum(above)],
            ['Sum below', sum(below)],
          ]}
        />
      }
    />
  );
}

type Column = readonly [title: string, text: (index: number) => string];

function SignalsTable({ along, name, columns }: { along: Along; name: Name; columns: readonly Column[] }) {
  const line = along.lines[0] as Thinned;
  return (
    <AlongTable
      name={name}
      columns={[...columns.map(([title]) => title), 'Signal']}
      count={line.size}
      place={(index) => line.x(index)}
      cells={(index) => [...columns.map(([, text]) => text(index)), along.out[index] ? 'beyond' : '']}
    />
  );
}

/** Every reading along the reel with what a chart says of it, a page at a time. */
function AlongTable(props: {
  name: Name;
  columns: readonly string[];
  count: number;
  place: (index: number) => number;
  cells: (index: number) => readonly string[];
}) {
  const { name, columns, count, place, cells } = props;
  return (
    <ChartTable title="Values as a table">
      {() => (
        <PagedTable
          columns={[capital(name), ...columns]}
          count={count}
          row={(index) => (
            <tr>
              <th scope="row">{formatCount(place(index))}</th>
              {cells(index).map((text, column) => (
                <td key={columns[column]} className="figures">
                  {text}
                </td>
              ))}
            </tr>
          )}
        />
      )}
    </ChartTable>
  );
}
