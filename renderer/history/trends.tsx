import { useEffect, useState } from 'react';
import { filtersOf, type HistoryWords } from '../../core/contract/historyWords.ts';
import type { LotTrends, TrendPoint } from '../../core/contract/lotTrends.ts';
import { lotToLot } from '../../core/drift/lotToLot.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { type Axis, ohmsTick, percentTick } from '../charts/axisAround.ts';
import { ChartFrame } from '../charts/chartFrame.tsx';
import { ChartTable } from '../charts/chartTable.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import LotsCharts from '../lots/lotsCharts.tsx';
import { DispositionShape } from '../print/dispositionShape.tsx';
import { hashOf } from '../route.ts';
import { Block } from '../sheet/sheet.tsx';
import { useStation } from '../station/station.tsx';
import { counted, formatCount } from '../words/count.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { figureText, indexText } from '../words/figures.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { formatDay } from '../words/time.ts';
import { type Trend, TrendChart } from './trendChart.tsx';
import '../lots/lotsScreen.css';

/** Digits that tell means of lots apart. */
const MEAN_DIGITS = 7;
const FATES = ['accepted', 'not-accepted', 'on-hold'] as const;

/** How the lots of a part, a supplier or both went: figures over time, dispositions, and whether each lot is like those before. */
export default function Trends({ words }: { words: HistoryWords }) {
  const isAsked = words.part !== undefined || words.supplier !== undefined;
  const { found, problem } = useTrends(words, isAsked);
  if (!isAsked) return <p>Choose a part or a supplier: lots of everything say nothing together.</p>;
  if (found === null) {
    return (
      <>
        <ProblemNotice problem={problem} />
        {problem === null && <p role="status">Looking for the lots …</p>}
      </>
    );
  }
  return (
    <>
      <ProblemNotice problem={problem} />
      {found.practice && found.lots > 0 && <SimulatedMark where="measure" />}
      <Fates trends={found} />
      {found.points.length === 0 ? (
        <p>No lot that is decided or on hold is among them: there is nothing to draw yet.</p>
      ) : (
        <Drawn trends={found} ofBoth={words.part !== undefined && words.supplier !== undefined} />
      )}
    </>
  );
}

function useTrends(words: HistoryWords, isAsked: boolean): { found: LotTrends | null; problem: Problem | null } {
  const { line, up } = useStation();
  const [found, setFound] = useState<LotTrends | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const asked = JSON.stringify(filtersOf(words));
  useEffect(() => {
    if (!up || !isAsked) return;
    let current = true;
    line.ask('history-trends', JSON.parse(asked)).then(
      (answer) => {
        if (!current) return;
        setFound(answer);
        setProblem(null);
      },
      (thrown) => current && setProblem(asProblem(thrown)),
    );
    return () => {
      current = false;
    };
  }, [line, up, asked, isAsked]);
  return { found, problem };
}

function Fates({ trends: { dispositions, lots, practice } }: { trends: LotTrends }) {
  const rest = dispositions.undecided;
  return (
    <Block
      title={`Dispositions of ${counted(lots, practice ? 'lot of practice' : 'lot', practice ? 'lots of practice' : 'lots')}`}
    >
      <ul className="trend-fates">
        {FATES.map((fate) => (
          <li key={fate}>
            <DispositionShape disposition={fate} />
            <span className="trend-count">{formatCount(dispositions[fate])}</span>
            {DISPOSITION_WORDS[fate].toLowerCase()}
          </li>
        ))}
        <li>
          <span className="trend-count">{formatCount(rest)}</span> not decided
        </li>
      </ul>
    </Block>
  );
}

function Drawn({ trends, ofBoth }: { trends: LotTrends; ofBoth: boolean }) {
  const { points, unit, by } = trends;
  const isMonthly = by === 'month';
  const charts = chartsOf(trends);
  return (
    <>
      <Block title={isMonthly ? 'Month by month' : 'Lot by lot'} source={sourceOf(trends)}>
        <div className="trends-charts">
          {charts.map((trend) => {
            const without = points.filter((point) => trend.of(point) === null).length;
            if (without === points.length) return <NoFigure key={trend.title} trend={trend} />;
            const missing = `${counted(without, isMonthly ? 'month' : 'lot', isMonthly ? 'months' : 'lots')} without it`;
            return (
              <ChartFrame key={trend.title} title={trend.title} note={without > 0 ? `${missing}.` : null}>
                <TrendChart trend={trend} points={points} />
              </ChartFrame>
            );
          })}
        </div>
        <div className="chart-foot">
          <ChartTable title={isMonthly ? 'Table of the months' : 'Table of the lots'}>
            {() => <TrendTable points={points} unit={unit} />}
          </ChartTable>
        </div>
      </Block>
      {ofBoth && by === 'lot' && <LotToLotBlock points={points} />}
    </>
  );
}

function NoFigure({ trend }: { trend: Trend }) {
  return (
    <figure className="chart">
      <figcaption>{trend.title}</figcaption>
      <p className="quiet">
        {trend.title === PPK ? 'No certificate quotes it: the figures of each run say why.' : 'None of them has it.'}
      </p>
    </figure>
  );
}

const PPK = 'Capability Ppk';

function chartsOf({ unit, by, points }: LotTrends): Trend[] {
  const tick = unit === 'ohms' ? ohmsTick : percentTick;
  const of = by === 'month' ? ' of the means' : '';
  const share = ({ measured, nonconforming }: TrendPoint) => (measured > 0 ? (100 * nonconforming) / measured : null);
  const mostShare = points.reduce((most, point) => Math.max(most, share(point) ?? 0), 0);
  const plain = (value: number, axis: Axis) => percentTick(value, axis).replace(/\s*%$/, '');
  return [
    {
      title: `Mean${of} and window${unit === 'percent' ? ', from the nominal value' : ''}`,
      of: ({ mean }) => mean,
      tick,
      limits: true,
    },
    {
      title: `Standard deviation${unit === 'percent' ? ', of the nominal value' : ''}`,
      of: ({ spread }) => spread,
      tick,
      reaches: [0],
    },
    {
      title: 'Nonconforming of those measured',
      of: share,
      tick: percentTick,
      // No share is below none, or above all.
      reaches: [0, mostShare === 0 ? 1 : Math.min(100, mostShare)],
    },
    {
      title: by === 'month' ? `${PPK}, the lowest of the month` : PPK,
      of: ({ ppk }) => ppk,
      tick: plain,
      reaches: [0],
    },
  ];
}

function sourceOf({ by, unit, lots }: LotTrends): string {
  const parts = [
    'Lots that are decided or on hold, in the order they were received. Readings of quite another value are left out of mean and spread.',
  ];
  if (by === 'month') {
    parts.push(
      `${counted(lots, 'lot is', 'lots are')} too many to be drawn one by one: each dot is a month, with the mean of its means and the pooled standard deviation.`,
    );
  } else parts.push('A dot is a lot and leads to its run; a hollow one was not accepted.');
  if (unit === 'percent') parts.push('Parts differ, so all is in per cent of each nominal value.');
  return parts.join(' ');
}

function TrendTable({ points, unit }: { points: readonly TrendPoint[]; unit: LotTrends['unit'] }) {
  const like = points.findLast(({ mean }) => mean !== null)?.mean ?? 1;
  const likeSpread = points.findLast(({ spread }) => spread !== null)?.spread ?? 1;
  const percent = (value: number) => `${figureText(value, 4).replace('-', '−')}\u00a0%`;
  const mean = (value: number) =>
    unit === 'ohms' ? ohmsFigure(value, { significant: MEAN_DIGITS, like }) : percent(value);
  const spread = (value: number) => (unit === 'ohms' ? ohmsFigure(value, { like: likeSpread }) : percent(value));
  return (
    <table className="trends-table">
      <thead>
        <tr>
          <th scope="col">Lot</th>
          <th scope="col">Received</th>
          <th scope="col" className="figures">
            Lots
          </th>
          <th scope="col" className="figures">
            Nonconforming
          </th>
          <th scope="col" className="figures">
            Mean
          </th>
          <th scope="col" className="figures">
            Standard deviation
          </th>
          <th scope="col" className="figures">
            Ppk
          </th>
          <th scope="col">Disposition</th>
        </tr>
      </thead>
      <tbody>
        {points.toReversed().map((point) => (
          <tr key={`${point.run} ${point.name}`}>
            <th scope="row">
              {point.run === null ? point.name : <a href={hashOf({ screen: 'run', run: point.run })}>{point.name}</a>}
            </th>
            <td>{formatDay(point.receivedMs)}</td>
            <td className="figures">{formatCount(point.lots)}</td>
            <td className="figures">
              {formatCount(point.nonconforming)} of {formatCount(point.measured)}
            </td>
            <td className="figures">{point.mean === null ? '' : mean(point.mean)}</td>
            <td className="figures">{point.spread === null ? '' : spread(point.spread)}</td>
            <td className="figures">{point.ppk === null ? '' : indexText(point.ppk)}</td>
            <td>{point.disposition && DISPOSITION_WORDS[point.disposition]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Whether the latest lot is like those before it, as the run's own screen of lots says. */
function LotToLotBlock({ points }: { points: readonly TrendPoint[] }) {
  const compared = lotToLot(
    points.map(({ name, count, leftOut, mean, spread }) => ({
      label: name,
      n: count,
      leftOut,
      meanOhms: mean,
      standardDeviationOhms: spread,
    })),
  );
  if (compared.points.length === 0) return null;
  return (
    <Block
      title="Lot to lot"
      source="Limits from the lots before the latest one alone. NIST/SEMATECH e-Handbook 6.3.2.1, 6.3.2.2, 6.3.2.4."
    >
      <p>{compared.words}</p>
      <LotsCharts compared={compared} />
    </Block>
  );
}
