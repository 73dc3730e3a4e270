import { isCertificateStale } from '../inspection/certificateStale.ts';
import { isPractice, type Run } from '../inspection/run.ts';
import { TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import type { Tolerance } from '../window/window.ts';
import { driftRows } from './driftRows.ts';
import { figureRows } from './figureRows.ts';
import { BENCH_KIND, FORMAT, piecesRow, type Row, textRow } from './format.ts';
import { historyRows } from './historyRows.ts';
import { classRows, decisionRows, planRows, positionsRows, switchingRows, temperatureRows } from './planRows.ts';
import { keyText } from './signature.ts';
import { studyRows } from './studyRows.ts';
import { summaryRows } from './summaryRows.ts';
import { worthRows } from './worthRows.ts';

/** Names the certificate's run, the program that wrote it and the key it is signed by. */
export interface About {
  run: number;
  version: string;
  /** The public key it is signed by, 64 characters of hex. */
  publicKey: string;
  /** Null on the first certificate of a decision. */
  reprint: Reprint | null;
}

/** That a certificate is written once more of the same decision. */
export interface Reprint {
  /** The number of the copy, from 2. */
  copy: number;
  /** SHA-256 (hex) of the file that was written before it. */
  after: string;
  /** When, in ISO 8601 with offset. */
  at: string;
}

/**
 * Whether a certificate that is written now is a reprint: where one was written that still says what is so. One of a hold that was lifted
 * since, or of before a correction, is another certificate.
 * @param at the time now
 */
export function reprintOf(run: Run, at: string): Reprint | null {
  const before = run.certificates.filter((one) => !isCertificateStale({ ...run, certificates: [one] }));
  const last = before.at(-1);
  return last ? { copy: before.length + 1, after: last.sha256, at } : null;
}

/**
 * All rows of a certificate but header, digest and signature, one after the other. Where and how the meter was reached is not on it.
 * @param tell told of readings and of groups of figures as they are done
 */
export function* rowsOf(run: Run, about: About, tell: TellProgress = TELL_NOBODY): Generator<Row> {
  yield* aboutRows(about);
  yield textRow('bench', 'kind', benchKind(run));
  yield* exerciseRows(run);
  yield* lotRows(run);
  yield* partRows(run);
  yield* measurementRows(run);
  yield* decisionRows(run.decision);
  yield* temperatureRows(run.temperature);
  yield* planRows(run.plan);
  yield* classRows(run);
  yield* switchingRows(run);
  yield* positionsRows(run.positions);
  yield* historyRows(run, tell);
  for (const [index, rowsFor] of FIGURES.entries()) {
    tell({ step: 'figures', done: index, of: FIGURES.length });
    yield* rowsFor(run);
  }
  yield* dispositionRows(run.decided);
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
    textRow('certificate', 'key', keyText(about.publicKey)),
    ...reprintRows(about.reprint),
  ];
}

function reprintRows(reprint: Reprint | null): Row[] {
  if (reprint === null) return [];
  const { copy, after, at } = reprint;
  return [{ row: 'certificate', item: 'reprint', text: after, number: String(copy), at }];
}

function benchKind(run: Run): string {
  if (isPractice(run)) return BENCH_KIND.simulated;
  return run.meter === null ? BENCH_KIND.none : BENCH_KIND.real;
}

function exerciseRows({ practice }: Run): Row[] {
  if (practice === null) return [];
  return [
    textRow('bench', 'exercise', practice.exercise),
    textRow('bench', 'exercise title', practice.title),
    textRow('bench', 'exercise sha-256', practice.digest),
  ];
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
    textRow('disposition', 'approved against the plan by', decided.approvedBy ?? ''),
  ];
}
