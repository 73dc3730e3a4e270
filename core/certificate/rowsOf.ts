import type { LotFacts, MeterFacts } from '../inspection/event.ts';
import { type BenchConfirmation, outlook, type Reading, type Run } from '../inspection/run.ts';
import type { Tolerance } from '../window/window.ts';
import { BENCH_KIND, FORMAT, type Row, type RowKind } from './format.ts';
import { statisticsOf } from './statistics.ts';

/** Names the certificate's run and the program that wrote it. */
export interface About {
  run: number;
  version: string;
}

/** What of a run stands on its certificate. Where and how the meter was reached does not. */
export type Certified = Pick<LotFacts, 'inspector' | 'part' | 'window' | 'lot' | 'plan'> &
  Pick<Run, 'receivedAt' | 'confirmations' | 'readings' | 'tally' | 'decided'> & {
    meter: { identity: Pick<MeterFacts['identity'], 'text' | 'simulated'>; setting: MeterFacts['setting'] } | null;
  };

/** All rows of a certificate but header and digest, in order. */
export function rowsOf(run: Certified, about: About): Row[] {
  return [
    ...aboutRows(about),
    ...benchRows(run),
    ...lotRows(run),
    ...partRows(run),
    ...meterRows(run.meter),
    ...planRows(run.plan),
    ...Array.from(run.readings, readingRow),
    ...summaryRows(run),
    ...dispositionRows(run.decided),
  ];
}

function aboutRows(about: About): Row[] {
  return [
    text('certificate', 'format', FORMAT),
    text('certificate', 'program version', about.version),
    text('certificate', 'run', String(about.run)),
  ];
}

function benchRows({ meter, confirmations }: Certified): Row[] {
  const kind = meter === null ? BENCH_KIND.none : meter.identity.simulated ? BENCH_KIND.simulated : BENCH_KIND.real;
  return [text('bench', 'kind', kind), ...confirmations.flatMap(confirmationRows)];
}

function confirmationRows({ by, at, cautions }: BenchConfirmation): Row[] {
  return [
    { row: 'bench', item: 'cautions confirmed by', text: by, at },
    ...cautions.map((caution) => text('bench', 'caution', caution)),
  ];
}

function lotRows({ lot, inspector, receivedAt }: Certified): Row[] {
  return [
    text('lot', 'number', lot.number),
    text('lot', 'supplier', lot.supplier),
    pieces('lot', 'size', lot.size),
    { row: 'lot', item: 'received by', text: inspector, at: receivedAt },
  ];
}

function partRows({ part, window }: Certified): Row[] {
  return [
    text('part', 'number', part.number),
    text('part', 'description', part.description),
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

function meterRows(meter: Certified['meter']): Row[] {
  if (meter === null) return [];
  const { identity, setting } = meter;
  return [
    text('meter', 'identity', identity.text),
    text('meter', 'function', setting.function),
    { row: 'meter', item: 'range', text: setting.range, ohms: setting.rangeOhms ?? '' },
    text('meter', 'integration time in mains cycles', setting.integrationCycles),
  ];
}

function planRows(plan: LotFacts['plan']): Row[] {
  const byAql: Row[] =
    plan.choice.kind === 'agreed'
      ? [text('plan', 'chosen by', 'agreed numbers')]
      : [
          text('plan', 'chosen by', 'AQL'),
          text('plan', 'inspection level', plan.choice.level),
          { row: 'plan', item: 'AQL', percent: plan.choice.aql },
          text('plan', 'code letter', plan.codeLetter ?? ''),
          text('plan', 'plan letter', plan.planLetter ?? ''),
        ];
  return [
    ...byAql,
    pieces('plan', 'sample size', plan.sampleSize),
    pieces('plan', 'acceptance number', plan.accept),
    pieces('plan', 'rejection number', plan.reject),
    text('plan', 'every piece', plan.everyPiece ? 'yes' : 'no'),
  ];
}

function readingRow(reading: Reading): Row {
  const { voided } = reading;
  return {
    row: 'reading',
    item: String(reading.reading),
    text: voided ? `${voided.reason} (by ${voided.by} at ${voided.at})` : '',
    piece: String(reading.piece),
    ohms: reading.ohms ?? '',
    verdict: voided ? 'void' : reading.verdict,
    meter_text: reading.raw,
    at: reading.at,
  };
}

function summaryRows(run: Certified): Row[] {
  const { tally } = run;
  const counting = Array.from(run.readings, (reading) => (reading.voided ? null : reading.ohms));
  const statistics = statisticsOf(counting.filter((ohms) => ohms !== null));
  const rounding = statistics ? `rounded to ${statistics.decimals} decimals, half to even` : '';
  return [
    pieces('summary', 'counted', tally.counted),
    pieces('summary', 'pass', tally.pass),
    pieces('summary', 'fail low', tally.failLow),
    pieces('summary', 'fail high', tally.failHigh),
    pieces('summary', 'open', tally.open),
    pieces('summary', 'nonconforming', tally.nonconforming),
    { row: 'summary', item: 'lowest', ohms: statistics?.lowest ?? '' },
    { row: 'summary', item: 'highest', ohms: statistics?.highest ?? '' },
    { row: 'summary', item: 'mean', text: rounding, ohms: statistics?.mean ?? '' },
    text('summary', 'void readings', String(tally.voided)),
    text('summary', 'by the plan', outlook(run)),
  ];
}

function dispositionRows(decided: Run['decided']): Row[] {
  if (decided === null) return [];
  return [
    { row: 'disposition', item: 'disposition', text: decided.disposition, at: decided.at },
    text('disposition', 'by', decided.by),
    text('disposition', 'reason', decided.reason),
  ];
}

function text(row: RowKind, item: string, words: string): Row {
  return { row, item, text: words };
}

function pieces(row: RowKind, item: string, count: number): Row {
  return { row, item, pieces: String(count) };
}
