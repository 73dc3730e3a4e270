import type { Run } from '../inspection/run.ts';
import { TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import type { Tolerance } from '../window/window.ts';
import { driftRows } from './driftRows.ts';
import { figureRows } from './figureRows.ts';
import { BENCH_KIND, FORMAT, piecesRow, type Row, textRow } from './format.ts';
import { historyRows } from './historyRows.ts';
import { decisionRows, planRows, positionsRows, temperatureRows } from './planRows.ts';
import { studyRows } from './studyRows.ts';
import { summaryRows } from './summaryRows.ts';
import { worthRows } from './worthRows.ts';

/** Names the certificate's run and the program that wrote it. */
export interface About {
  run: number;
  version: string;
}

/**
 * All rows of a certificate but header and digest, in order. Where and how the meter was reached is not on it.
 * @param tell told of readings and of groups of figures as they are done
 */
export function rowsOf(run: Run, about: About, tell: TellProgress = TELL_NOBODY): Row[] {
  const history = historyRows(run, tell);
  const figures = FIGURES.flatMap((rowsFor, index) => {
    tell({ step: 'figures', done: index, of: FIGURES.length });
    return rowsFor(run);
  });
  return [
    ...aboutRows(about),
    textRow('bench', 'kind', benchKind(run.meter)),
    ...lotRows(run),
    ...partRows(run),
    ...measurementRows(run),
    ...decisionRows(run.decision),
    ...temperatureRows(run.temperature),
    ...planRows(run.plan),
    ...positionsRows(run.positions),
    ...history,
    ...figures,
    ...dispositionRows(run.decided),
  ];
}

/** What is worked out from all readings together, group by group. */
const FIGURES: readonly ((run: Run) => Row[])[] = [
  summaryRows,
  worthRows,
  driftRows,
  (run) => (run.plan.choice.kind === 'study' ? studyRows(run) : figureRows(run)),
];

function aboutRows(about: About): Row[] {
  return [
    textRow('certificate', 'format', FORMAT),
    textRow('certificate', 'program version', about.version),
    textRow('certificate', 'run', String(about.run)),
  ];
}

function benchKind(meter: Run['meter']): string {
  return meter === null ? BENCH_KIND.none : meter.identity.simulated ? BENCH_KIND.simulated : BENCH_KIND.real;
}

function lotRows({ lot, inspector, receivedAt }: Run): Row[] {
  return [
    textRow('lot', 'number', lot.number),
    textRow('lot', 'supplier', lot.supplier),
    textRow('lot', 'reel', lot.reel),
    piecesRow('lot', 'size', lot.size),
    { row: 'lot', item: 'received by', text: inspector, at: receivedAt },
  ];
}

function partRows({ part, window }: Run): Row[] {
  return [
    textRow('part', 'number', part.number),
    textRow('part', 'description', part.description),
    { row: 'part', item: 'nominal', ohms: part.nominal ?? '' },
    ...toleranceRows(part.tolerance),
    { row: 'part', item: 'window', lower_ohms: window.lower ?? '', upper_ohms: window.upper ?? '' },
    { row: 'part', item: 'rated power in watts', number: part.ratedWatts ?? '' },
  ];
}

/** Two figures around the nominal value, or none where the window's limits were given themselves. */
function toleranceRows(tolerance: Tolerance): Row[] {
  if (tolerance.kind === 'limits') return [];
  const unit = tolerance.kind;
  return [
    { row: 'part', item: 'tolerance above', [unit]: tolerance.plus },
    { row: 'part', item: 'tolerance below', [unit]: tolerance.minus },
  ];
}

function measurementRows({ measurement, checks }: Run): Row[] {
  return [
    textRow('measurement', 'method', measurement.method),
    textRow('measurement', 'range', measurement.range),
    textRow('measurement', 'integration time in mains cycles', measurement.integrationCycles),
    textRow('measurement', 'checks hold for readings', String(checks.everyReadings)),
    textRow('measurement', 'checks hold for minutes', String(checks.everyMinutes)),
    { row: 'measurement', item: 'ambient from', celsius: checks.ambientCelsius.lowest },
    { row: 'measurement', item: 'ambient to', celsius: checks.ambientCelsius.highest },
  ];
}

function dispositionRows(decided: Run['decided']): Row[] {
  if (decided === null) return [];
  return [
    { row: 'disposition', item: 'disposition', text: decided.disposition, at: decided.at },
    textRow('disposition', 'by', decided.by),
    textRow('disposition', 'reason', decided.reason),
  ];
}
