import { checked } from '../contract/invalid.ts';
import { apply } from '../inspection/apply.ts';
import { type Command, decide } from '../inspection/decide.ts';
import { CORRECTABLE, type Disposition, dispositions, type InspectionEvent } from '../inspection/event.ts';
import { positionsAreKnown } from '../inspection/positionTaken.ts';
import { Readings } from '../inspection/readings.ts';
import type { Run } from '../inspection/run.ts';
import { Problem } from '../problem/problem.ts';
import { CHECKS, foundWhat, outcome, type ReferenceFacts, referenceFacts, type Shown } from '../readiness/check.ts';
import { readMeter } from './readMeter.ts';
import type { FileRow, RowReader } from './rowReader.ts';

/**
 * Readings are packed soon: those that wait are so few that the engine throws them away while they are young, instead of keeping
 * them with what lasts.
 */
const PAGE = 256;

/**
 * Lets the run happen again as its rows say: each row becomes the command it came from, with what was put in (meter texts,
 * names, reasons, times), and the command is decided and applied as it was at the bench. Outcomes of checks, zero,
 * values, verdicts and what is suspect follow anew; whether the rows say the same is for the caller to check.
 * @throws problem certificate-broken with the row where the run could not have gone this way
 */
export function readHistory(rows: RowReader, received: Run): Run {
  let run: Run = { ...received, readings: Readings.of([], PAGE) };
  const happen = (row: FileRow, events: readonly InspectionEvent[]) => {
    for (const event of events) run = row.holds(() => apply(run, event));
  };
  const doing = (row: FileRow, command: Command, at = row.time()) => {
    const events = row.holds(() => decide(run, command, at));
    if (events instanceof Problem) throw row.broken(events.what);
    for (const event of events) mustComeOutAsSaid(row, event);
    happen(row, events);
  };

  for (;;) {
    const row = rows.peek();
    if (row.is('meter')) {
      const { meter, at } = readMeter(rows);
      doing(row, { type: 'connect-meter', meter }, at);
    } else if (row.is('bench', 'cautions confirmed by')) {
      happen(row, [readConfirmation(rows)]);
    } else if (row.is('check')) {
      doing(row, readCheck(rows));
    } else if (row.is('readiness', 'expired')) {
      rows.take('readiness');
      doing(row, { type: 'expire-readiness', why: row.value('text') });
    } else if (row.is('override', 'calibration')) {
      rows.take('override');
      doing(row, { type: 'override-calibration', by: row.named('by'), reason: row.value('text') });
    } else if (row.is('reading')) {
      rows.take('reading');
      const position = row.value('position') === '' ? null : row.pieces('position');
      mustSayWhere(row, run, position);
      doing(row, { type: 'record-reading', measured: { raw: row.value('meter_text') }, position });
    } else if (row.is('void')) {
      rows.take('void');
      const reading = Number(row.value('item'));
      doing(row, { type: 'void-reading', reading, by: row.named('by'), reason: row.value('text') });
    } else if (row.is('hold')) {
      rows.take('hold');
      const said = { by: row.named('by'), reason: row.value('text') };
      const isLifted = row.oneOf('item', ['put on hold', 'lifted']) === 'lifted';
      doing(row, isLifted ? { type: 'lift-hold', ...said } : { type: 'decide-lot', disposition: 'on-hold', ...said });
    } else if (row.is('correction', 'decision was')) {
      const was = readDecided(rows, 'decision was');
      // The decision itself stands nowhere else; behind an earlier correction it is the one that was made by that.
      if (run.decided === null) doing(row, { type: 'decide-lot', ...was.said }, was.at);
      mustBe(row, run.decided, was);
      const became = rows.peek();
      const { said, at } = readDecided(rows, 'decision became');
      const { disposition } = said;
      if (disposition === 'studied') throw became.broken('a decision of a lot cannot become a study');
      doing(became, { type: 'correct-decision', ...said, disposition }, at);
    } else if (row.is('correction')) {
      happen(row, [readCorrectedFact(rows)]);
    } else {
      return run;
    }
  }
}

interface DecisionSaid {
  said: { disposition: Disposition; by: string; reason: string; approvedBy: string | null };
  at: string;
}

function readDecided(rows: RowReader, item: string): DecisionSaid {
  const row = rows.take('correction', item);
  const because = rows.take('correction', 'its reason');
  const approvedBy = because.value('by') === '' ? null : because.value('by');
  const disposition = row.oneOf('text', dispositions.options);
  return { said: { disposition, by: row.named('by'), reason: because.value('text'), approvedBy }, at: row.time() };
}

function mustBe(row: FileRow, decided: Run['decided'], { said, at }: DecisionSaid): void {
  const { disposition, by, reason, approvedBy } = said;
  const isIt =
    decided?.disposition === disposition &&
    decided.by === by &&
    decided.reason === reason &&
    decided.approvedBy === approvedBy &&
    decided.at === at;
  if (!isIt) throw row.broken('it is not the decision that stood');
}

/** The rows of lot and part say what is right since; that it was once otherwise follows from nothing else. */
function readCorrectedFact(rows: RowReader): InspectionEvent {
  const row = rows.take('correction');
  const fact = row.oneOf('item', CORRECTABLE);
  const was = rows.take('correction', 'was').value('text');
  const is = rows.take('correction', 'became').value('text');
  return { type: 'facts-corrected', at: row.time(), by: row.named('by'), fact, was, is, reason: row.value('text') };
}

/** What comes after a check rests on it, so a wrong outcome is named here and not where it first shows. */
function mustComeOutAsSaid(row: FileRow, event: InspectionEvent): void {
  if (event.type !== 'bench-checked') return;
  const said = row.oneOf('verdict', outcome.options);
  if (said !== event.outcome)
    throw row.broken(`the check is said to be ${said}, but what was shown gives ${event.outcome}: ${event.why}`);
}

/** Where nobody says where a piece was taken it counts as taken where it was asked for, but a certificate says it. */
function mustSayWhere(row: FileRow, run: Run, position: number | null): void {
  if (position === null && positionsAreKnown(run)) throw row.broken('position is empty');
}

/** The wording of cautions may change from version to version, so they are taken as confirmed. */
function readConfirmation(rows: RowReader): InspectionEvent {
  const row = rows.take('bench', 'cautions confirmed by');
  const cautions = Array.from(rows.all('bench', 'caution'), (caution) => caution.value('text'));
  if (cautions.length === 0) throw row.broken('no caution was confirmed');
  return { type: 'bench-confirmed', by: row.named(), at: row.time(), cautions };
}

function readCheck(rows: RowReader): Command {
  const row = rows.take('check');
  const check = row.oneOf('item', CHECKS);
  const shown = Array.from(
    rows.all('found'),
    (found): Shown => ({ what: found.oneOf('item', foundWhat.options), raw: found.value('meter_text') }),
  );
  return { type: 'check-bench', by: row.named('by'), check, shown, reference: readReference(rows) };
}

function readReference(rows: RowReader): ReferenceFacts | null {
  if (!rows.peek().is('reference')) return null;
  const first = rows.peek();
  const facts = {
    name: rows.take('reference', 'name').named(),
    ohms: rows.take('reference', 'value').decimal('ohms'),
    uncertaintyOhms: rows.take('reference', 'uncertainty').decimal('ohms'),
    due: rows.take('reference', 'due').named(),
  };
  return first.holds(() => checked<ReferenceFacts>('the reference', referenceFacts, facts));
}
