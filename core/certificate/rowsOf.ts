import { calibrationAt } from '../accuracy/calibration.ts';
import type { LotFacts } from '../inspection/event.ts';
import { counts, outlook, type Run } from '../inspection/run.ts';
import type { Outcome } from '../readiness/check.ts';
import type { Tolerance } from '../window/window.ts';
import { BENCH_KIND, FORMAT, piecesRow, type Row, textRow } from './format.ts';
import { historyRows } from './historyRows.ts';
import { statisticsOf } from './statistics.ts';

/** Names the certificate's run and the program that wrote it. */
export interface About {
  run: number;
  version: string;
}

/** All rows of a certificate but header and digest, in order. Where and how the meter was reached is not on it. */
export function rowsOf(run: Run, about: About): Row[] {
  return [
    ...aboutRows(about),
    textRow('bench', 'kind', benchKind(run.meter)),
    ...lotRows(run),
    ...partRows(run),
    ...measurementRows(run),
    ...planRows(run.plan),
    ...historyRows(run),
    ...summaryRows(run),
    ...dispositionRows(run.decided),
  ];
}

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

function planRows(plan: LotFacts['plan']): Row[] {
  const byAql: Row[] =
    plan.choice.kind === 'agreed'
      ? [textRow('plan', 'chosen by', 'agreed numbers')]
      : [
          textRow('plan', 'chosen by', 'AQL'),
          textRow('plan', 'inspection level', plan.choice.level),
          { row: 'plan', item: 'AQL', percent: plan.choice.aql },
          textRow('plan', 'code letter', plan.codeLetter ?? ''),
          textRow('plan', 'plan letter', plan.planLetter ?? ''),
        ];
  return [
    ...byAql,
    piecesRow('plan', 'sample size', plan.sampleSize),
    piecesRow('plan', 'acceptance number', plan.accept),
    piecesRow('plan', 'rejection number', plan.reject),
    textRow('plan', 'every piece', plan.everyPiece ? 'yes' : 'no'),
  ];
}

function summaryRows(run: Run): Row[] {
  const { tally } = run;
  const counting = Array.from(run.readings, (reading) => (counts(reading) ? reading.ohms : null));
  const statistics = statisticsOf(counting.filter((ohms) => ohms !== null));
  const rounding = statistics ? `rounded to ${statistics.decimals} decimals, half to even` : '';
  return [
    piecesRow('summary', 'counted', tally.counted),
    piecesRow('summary', 'pass', tally.pass),
    piecesRow('summary', 'fail low', tally.failLow),
    piecesRow('summary', 'fail high', tally.failHigh),
    piecesRow('summary', 'open', tally.open),
    piecesRow('summary', 'nonconforming', tally.nonconforming),
    { row: 'summary', item: 'lowest', ohms: statistics?.lowest ?? '' },
    { row: 'summary', item: 'highest', ohms: statistics?.highest ?? '' },
    { row: 'summary', item: 'mean', text: rounding, ohms: statistics?.mean ?? '' },
    textRow('summary', 'void readings', String(tally.voided)),
    textRow('summary', 'suspect readings', String(tally.suspect)),
    textRow('summary', 'calibration', calibrationWords(run)),
    textRow('summary', 'checks done', String(checksDone(run))),
    textRow('summary', 'checks failed', String(checksThat(run, 'failed'))),
    textRow('summary', 'checks waived', String(checksThat(run, 'waived'))),
    textRow('summary', 'checks by word', String(checksThat(run, 'by-word'))),
    textRow('summary', 'by the plan', outlook(run)),
  ];
}

export function checksDone({ history }: Pick<Run, 'history'>): number {
  return history.count(({ kind }) => kind === 'check');
}

/** How many checks of a run came out this way. */
export function checksThat({ history }: Pick<Run, 'history'>, outcome: Outcome): number {
  return history.count((happening) => happening.kind === 'check' && happening.outcome === outcome);
}

/** How the calibration of the meter stood when the lot was decided, and who overrode it where it was not in date. */
export function calibrationWords({ meter, overridden, decided }: Run): string {
  if (!meter || !decided) return '';
  const { state, why } = calibrationAt(meter, decided.at);
  if (state === 'in-date') return why;
  return overridden ? `${why}; overridden by ${overridden.by}: ${overridden.reason}` : why;
}

function dispositionRows(decided: Run['decided']): Row[] {
  if (decided === null) return [];
  return [
    { row: 'disposition', item: 'disposition', text: decided.disposition, at: decided.at },
    textRow('disposition', 'by', decided.by),
    textRow('disposition', 'reason', decided.reason),
  ];
}
