import Big from 'big.js';
import { List } from 'immutable';
import { dispositions } from '../inspection/event.ts';
import { type BenchConfirmation, outlook, type Reading, type Run } from '../inspection/run.ts';
import { isSimulatedBench } from '../inspection/simulatedBench.ts';
import { count, EMPTY_TALLY } from '../inspection/tally.ts';
import { meterNumber } from '../quantity/meterNumber.ts';
import { LEVELS } from '../sampling/codeLetter.ts';
import { type Plan, type PlanChoice, planFor } from '../sampling/plan.ts';
import { judge, type Measured, type Verdict } from '../window/judge.ts';
import { type Tolerance, type Window, windowOf } from '../window/window.ts';
import { BENCH_KIND, FORMAT } from './format.ts';
import { type FileRow, quoted, type RowReader } from './rowReader.ts';
import type { About, Certified } from './rowsOf.ts';

/** How the lot was decided. */
export type Decision = NonNullable<Run['decided']>;

/**
 * Reads the run back from a certificate's rows, taking only what was put in (nominal, tolerance, plan chosen, meter
 * texts, names, reasons, disposition) and working out everything else anew: window, plan, values, verdicts, tally.
 * Whether the rest of the rows says the same, and the disposition follows, is for the caller to check.
 * @throws problem certificate-broken with the row, also where the run could not have gone this way
 */
export function readRun(rows: RowReader): { run: Certified & { decided: Decision }; about: About } {
  const about = readAbout(rows);
  const kind = rows.take('bench', 'kind');
  const confirmations = Array.from(rows.all('bench', 'cautions confirmed by'), (row) => readConfirmation(rows, row));
  const lotNumber = rows.take('lot', 'number').named();
  const supplier = rows.take('lot', 'supplier').value('text');
  const size = rows.take('lot', 'size').pieces();
  const received = rows.take('lot', 'received by');
  const { part, window } = readPart(rows);
  const meter = readMeter(rows, kind);
  const plan = readPlan(rows, size);
  const { readings, tally } = readReadings(rows, window, plan, meter !== null && confirmations.length > 0);
  // Nothing is taken from the summary: all of it follows.
  for (const _ of rows.all('summary'));
  const decided = readDecision(rows);
  rows.end();

  const run = {
    inspector: received.named(),
    receivedAt: received.time(),
    lot: { number: lotNumber, supplier, size },
    part,
    window,
    plan,
    meter,
    confirmations,
    readings: List(readings),
    tally,
    decided,
  };
  return { run, about };
}

function readAbout(rows: RowReader): About {
  rows.take('certificate', 'format').oneOf('text', [FORMAT]);
  const version = rows.take('certificate', 'program version').value('text');
  const run = rows.take('certificate', 'run');
  if (!/^[1-9]\d{0,14}$/.test(run.value('text'))) throw run.broken('the run has no number');
  return { version, run: Number(run.value('text')) };
}

function readConfirmation(rows: RowReader, row: FileRow): BenchConfirmation {
  const cautions = Array.from(rows.all('bench', 'caution'), (caution) => caution.value('text'));
  if (cautions.length === 0) throw row.broken('no caution was confirmed');
  return { by: row.named(), at: row.time(), cautions };
}

function readPart(rows: RowReader): { part: Certified['part']; window: Window } {
  const number = rows.take('part', 'number').named();
  const description = rows.take('part', 'description').value('text');
  const nominal = rows.take('part', 'nominal').decimalOrNone('ohms');
  let tolerance: Tolerance;
  let row: FileRow;
  if (rows.peek().is('part', 'tolerance above')) {
    const above = rows.take('part', 'tolerance above');
    const below = rows.take('part', 'tolerance below');
    const unit = above.value('percent') === '' ? 'ohms' : 'percent';
    tolerance = { kind: unit, plus: above.decimal(unit), minus: below.decimal(unit) };
    row = rows.take('part', 'window');
  } else {
    row = rows.take('part', 'window');
    tolerance = {
      kind: 'limits',
      lower: row.decimalOrNone('lower_ohms'),
      upper: row.decimalOrNone('upper_ohms'),
    };
  }
  const window = row.holds(() => windowOf(nominal === null ? null : new Big(nominal), tolerance));
  return { part: { number, description, nominal, tolerance }, window };
}

function readMeter(rows: RowReader, kind: FileRow): Certified['meter'] {
  const said = kind.oneOf('text', [BENCH_KIND.real, BENCH_KIND.simulated, BENCH_KIND.none]);
  if (said === BENCH_KIND.none) return null;
  const text = rows.take('meter', 'identity').value('text');
  const simulated = isSimulatedBench(text);
  if (simulated !== (said === BENCH_KIND.simulated)) {
    throw kind.broken(
      simulated
        ? 'practice on the simulated bench is passed off as readings of a real meter'
        : 'readings of a real meter are passed off as practice on the simulated bench',
    );
  }
  const measured = rows.take('meter', 'function').oneOf('text', ['2-wire', '4-wire']);
  const range = rows.take('meter', 'range');
  const cycles = rows.take('meter', 'integration time in mains cycles');
  const setting = {
    function: measured,
    range: range.oneOf('text', ['fixed', 'auto']),
    rangeOhms: range.decimalOrNone('ohms'),
    integrationCycles: cycles.value('text'),
  };
  if (setting.range === 'fixed' && !(Number(setting.rangeOhms) > 0)) throw range.broken('a fixed range has a value');
  if (!(Number(setting.integrationCycles) > 0)) throw cycles.broken('the integration time is not a number above 0');
  return { identity: { text, simulated }, setting };
}

function readPlan(rows: RowReader, lotSize: number): Plan {
  const chosen = rows.take('plan', 'chosen by');
  let choice: PlanChoice;
  if (chosen.oneOf('text', ['AQL', 'agreed numbers']) === 'AQL') {
    const level = rows.take('plan', 'inspection level').oneOf('text', LEVELS);
    choice = { kind: 'aql', level, aql: rows.take('plan', 'AQL').decimal('percent') };
    rows.take('plan', 'code letter');
    rows.take('plan', 'plan letter');
  }
  const sampleSize = rows.take('plan', 'sample size').pieces();
  const accept = rows.take('plan', 'acceptance number').pieces();
  rows.take('plan', 'rejection number');
  rows.take('plan', 'every piece');
  return chosen.holds(() => planFor(lotSize, choice ?? { kind: 'agreed', sampleSize, accept }));
}

function readReadings(
  rows: RowReader,
  window: Window,
  plan: Plan,
  ready: boolean,
): { readings: Reading[]; tally: Run['tally'] } {
  const readings: Reading[] = [];
  let tally = EMPTY_TALLY;
  /** Whether the latest reading of each piece is void, so that the piece may be read again; piece 1 comes first. */
  const latestVoid: boolean[] = [];
  for (const row of rows.all('reading')) {
    if (!ready) throw row.broken('a reading was taken before a bench was ready');
    if (outlook({ tally, plan }) !== 'undecided') throw row.broken('a reading was taken after the plan needed none');
    const piece = row.pieces('piece');
    const isNew = piece === latestVoid.length + 1;
    if (!isNew && latestVoid[piece - 1] !== true) {
      throw row.broken(`piece ${piece} is neither the next of the lot nor one whose reading was made void`);
    }
    const { ohms, verdict } = judgedAnew(row, window);
    const voided = row.value('verdict') === 'void' ? readVoid(row) : null;
    tally = voided ? { ...tally, voided: tally.voided + 1 } : count(tally, verdict, 1);
    latestVoid[piece - 1] = voided !== null;
    const reading = readings.length + 1;
    readings.push({ reading, piece, at: row.time(), raw: row.value('meter_text'), ohms, verdict, voided });
  }
  return { readings, tally };
}

function judgedAnew(row: FileRow, window: Window): { ohms: string | null; verdict: Verdict } {
  const raw = row.value('meter_text');
  const number = meterNumber(raw);
  if (number === null || number.kind === 'not-a-number')
    throw row.broken(`the meter text ${quoted(raw)} gives no value`);
  const measured: Measured =
    number.kind === 'overload' ? { kind: 'overload', raw } : { kind: 'value', ohms: number.text, raw };
  const ohms = measured.kind === 'value' ? measured.ohms : null;
  return { ohms, verdict: row.holds(() => judge(window, measured)) };
}

function readVoid(row: FileRow): NonNullable<Reading['voided']> {
  const match = /^(.+) \(by (.*) at ([^ ]+)\)$/s.exec(row.value('text'));
  if (!match) throw row.broken('a void reading must say why, by whom and when it was made void');
  const [, reason = '', by = '', at = ''] = match;
  return { reason, by, at: row.checkedTime(at) };
}

function readDecision(rows: RowReader): Decision {
  const row = rows.take('disposition', 'disposition');
  const disposition = row.oneOf('text', dispositions.options);
  const by = rows.take('disposition', 'by').named();
  const reason = rows.take('disposition', 'reason').value('text');
  return { disposition, by, at: row.time(), reason };
}
