import { calibrationAt } from '../accuracy/calibration.ts';
import { standingOf } from '../inspection/outlook.ts';
import { positionsAreKnown, takenElsewhere } from '../inspection/positionTaken.ts';
import { counts, type Run } from '../inspection/run.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Outcome } from '../readiness/check.ts';
import { piecesRow, type Row, textRow } from './format.ts';
import { statisticsOf } from './statistics.ts';

/** Counts, lowest, highest, mean, what stands behind the readings, and what the plan says. */
export function summaryRows(run: Run): Row[] {
  const { tally } = run;
  const standing = standingOf(run);
  const statistics = statisticsOf(valuesThatCount(run));
  const rounding = statistics ? `rounded to ${statistics.decimals} decimals, half to even` : '';
  return [
    piecesRow('summary', 'counted', tally.counted),
    piecesRow('summary', 'pass', tally.pass),
    piecesRow('summary', 'conditional pass', tally.conditionalPass),
    piecesRow('summary', 'conditional fail low', tally.conditionalFailLow),
    piecesRow('summary', 'conditional fail high', tally.conditionalFailHigh),
    piecesRow('summary', 'fail low', tally.failLow),
    piecesRow('summary', 'fail high', tally.failHigh),
    piecesRow('summary', 'open', tally.open),
    piecesRow('summary', 'nonconforming', tally.nonconforming),
    ...(run.classA === null ? [] : [piecesRow('summary', 'nonconforming of class A', tally.classA)]),
    { row: 'summary', item: 'lowest', ohms: statistics?.lowest ?? '' },
    { row: 'summary', item: 'highest', ohms: statistics?.highest ?? '' },
    { row: 'summary', item: 'mean', text: rounding, ohms: statistics?.mean ?? '' },
    textRow('summary', 'void readings', String(tally.voided)),
    textRow('summary', 'suspect readings', String(tally.suspect)),
    ...elsewhereRows(run),
    textRow('summary', 'calibration', calibrationWords(run)),
    textRow('summary', 'checks done', String(checksDone(run))),
    textRow('summary', 'checks failed', String(checksThat(run, 'failed'))),
    textRow('summary', 'checks waived', String(checksThat(run, 'waived'))),
    textRow('summary', 'checks by word', String(checksThat(run, 'by-word'))),
    textRow('summary', 'by the plan', standing.outlook),
    ...(standing.why === null ? [] : [textRow('summary', 'by the plan, why', standing.why)]),
    piecesRow('summary', 'pieces the plan wants', standing.wanted),
  ];
}

function* valuesThatCount({ readings }: Run): Generator<DecimalText> {
  for (const { ohms, ...reading } of readings.judged()) if (ohms !== null && counts(reading)) yield ohms;
}

/** How many pieces that count were taken somewhere else than asked for, where positions are known. */
function elsewhereRows(run: Run): Row[] {
  return positionsAreKnown(run) ? [piecesRow('summary', 'taken elsewhere than asked for', takenElsewhere(run))] : [];
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
  const { state, why } = calibrationAt(meter, decided.firstAt);
  if (state === 'in-date') return why;
  return overridden ? `${why}; overridden by ${overridden.by}: ${overridden.reason}` : why;
}
