import Big from 'big.js';
import { apply } from '../inspection/apply.ts';
import { dispositions, type LotFacts } from '../inspection/event.ts';
import type { Run } from '../inspection/run.ts';
import { type Tolerance, type Window, windowOf } from '../window/window.ts';
import { BENCH_KIND, FOLLOWING, FORMAT } from './format.ts';
import { readHistory } from './readHistory.ts';
import { readClasses, readDecisionRule, readPlan, readPositions, readSwitching, readTemperature } from './readPlan.ts';
import type { FileRow, RowReader } from './rowReader.ts';
import type { About, Reprint } from './rowsOf.ts';
import { publicKeyIn } from './signature.ts';

/** The number of the copy that is the first reprint. */
const FIRST_REPRINT = 2;

/** How the lot was decided. */
export type Decision = NonNullable<Run['decided']>;

/**
 * Reads the run back from a certificate's rows, taking only what was put in (nominal, tolerance, rule, coefficient, plan chosen, meter
 * texts, names, reasons, times, disposition) and working out everything else anew: window, plan, checks, zero, values,
 * verdicts, what is suspect, tally. Whether the rest of the rows says the same, and the disposition follows, is for the
 * caller to check.
 * @throws problem certificate-broken with the row, also where the run could not have gone this way
 */
export function readRun(rows: RowReader): { run: Run; decided: Decision; about: About } {
  const about = readAbout(rows);
  const kind = rows.take('bench', 'kind');
  const practice = readExercise(rows);
  const lotNumber = rows.take('lot', 'number').named();
  const supplier = rows.take('lot', 'supplier').value('text');
  const reel = rows.take('lot', 'reel').value('text');
  const size = rows.take('lot', 'size').pieces();
  const received = rows.take('lot', 'received by');
  const { part, window } = readPart(rows);
  const { measurement, checks } = readMeasurement(rows);
  const decision = readDecisionRule(rows);
  const temperature = readTemperature(rows);
  const plan = readPlan(rows, size);
  const classes = readClasses(rows);
  const { switching, offeredAgainAfter } = readSwitching(rows);
  const positions = readPositions(rows, { lot: { size }, plan });
  const lot = { number: lotNumber, supplier, reel, size, offeredAgainAfter };
  const asked = {
    part,
    window,
    lot,
    plan,
    ...classes,
    switching,
    positions,
    measurement,
    checks,
    decision,
    temperature,
  };
  const facts: LotFacts = { inspector: received.named(), ...asked, practice };
  const run = readHistory(rows, apply(null, { type: 'lot-received', at: received.time(), facts }));
  mustBeOfKind(run, kind);
  for (const kind of FOLLOWING) for (const _ of rows.all(kind));
  const decided = readDecision(rows, run.decided);
  rows.end();
  return { run, decided, about };
}

function readAbout(rows: RowReader): About {
  const format = rows.take('certificate', 'format');
  format.oneOf('text', [FORMAT]);
  const version = rows.take('certificate', 'program version').value('text');
  const run = rows.take('certificate', 'run');
  if (!/^[1-9]\d{0,14}$/.test(run.value('text'))) throw run.broken('the run has no number');
  const key = rows.take('certificate', 'key');
  const publicKey = publicKeyIn(key.value('text'));
  if (publicKey === null) throw key.broken('it names no Ed25519 key by its fingerprint');
  return { version, run: Number(run.value('text')), publicKey, reprint: readReprint(rows) };
}

function readReprint(rows: RowReader): Reprint | null {
  if (!rows.peek().is('certificate', 'reprint')) return null;
  const row = rows.take('certificate', 'reprint');
  const [after, copy] = [row.value('text'), row.pieces('number')];
  if (!/^[0-9a-f]{64}$/.test(after)) throw row.broken('it says no SHA-256 of the copy before it');
  if (copy < FIRST_REPRINT) throw row.broken(`a reprint is the second copy or a later one, not ${copy}`);
  return { copy, after, at: row.time() };
}

/** Which exercise it was. Its task is not on the certificate, and no verdict rests on it. */
function readExercise(rows: RowReader): LotFacts['practice'] {
  if (!rows.peek().is('bench', 'exercise')) return null;
  const exercise = rows.take('bench', 'exercise').named();
  const title = rows.take('bench', 'exercise title').named();
  const digest = rows.take('bench', 'exercise sha-256').value('text');
  return { exercise, title, task: '', asks: null, digest };
}

function mustBeOfKind({ meter }: Run, kind: FileRow): void {
  const said = kind.oneOf('text', [BENCH_KIND.real, BENCH_KIND.simulated, BENCH_KIND.none]);
  if (!meter || said === BENCH_KIND.none || meter.identity.simulated === (said === BENCH_KIND.simulated)) return;
  throw kind.broken(
    meter.identity.simulated
      ? 'practice on the simulated bench is passed off as readings of a real meter'
      : 'readings of a real meter are passed off as practice on the simulated bench',
  );
}

function readMeasurement(rows: RowReader): Pick<LotFacts, 'measurement' | 'checks'> {
  const method = rows.take('measurement', 'method').oneOf('text', ['2-wire', '4-wire']);
  const range = rows.take('measurement', 'range').oneOf('text', ['window', 'auto']);
  const integrationCycles = rows.take('measurement', 'integration time in mains cycles').decimal('text');
  const everyReadings = readCount(rows.take('measurement', 'checks hold for readings'));
  const everyMinutes = readCount(rows.take('measurement', 'checks hold for minutes'));
  const lowest = rows.take('measurement', 'ambient from').decimal('celsius');
  const highest = rows.take('measurement', 'ambient to').decimal('celsius');
  return {
    measurement: { method, range, integrationCycles },
    checks: { everyReadings, everyMinutes, ambientCelsius: { lowest, highest } },
  };
}

function readCount(row: FileRow): number {
  const value = row.value('text');
  if (!/^[1-9]\d{0,5}$/.test(value)) throw row.broken(`${row.value('item')} must be a whole number above 0`);
  return Number(value);
}

function readPart(rows: RowReader): { part: LotFacts['part']; window: Window } {
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
  const ratedWatts = rows.take('part', 'rated power in watts').decimalOrNone('number');
  return { part: { number, description, nominal, tolerance, ratedWatts }, window };
}

/** @param before the decision that came out of holds and corrections, where there were any */
function readDecision(rows: RowReader, before: Run['decided']): Decision {
  const row = rows.take('disposition', 'disposition');
  const disposition = row.oneOf('text', dispositions.options);
  const by = rows.take('disposition', 'by').named();
  const reason = rows.take('disposition', 'reason').value('text');
  const approved = rows.take('disposition', 'approved against the plan by').value('text');
  const approvedBy = approved === '' ? null : approved;
  return { disposition, by, at: row.time(), reason, approvedBy, firstAt: before?.firstAt ?? row.time() };
}
