import { type BenchCheck, counts, type Decided, type Happening, type Reading, type Run } from '../inspection/run.ts';
import { counting, TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { significantPercent } from '../quantity/significant.ts';
import type { Found } from '../readiness/check.ts';
import { positionOf } from '../sampling/positions.ts';
import { degreesOfFreedomOf, probabilityWrong, standardOhms } from '../uncertainty/risk.ts';
import { conforms } from '../window/judge.ts';
import { type Row, textRow } from './format.ts';
import { meterRows } from './meterRows.ts';

/** All that happened at the bench, readings included, in the order it happened. */
export function* historyRows(run: Run, tell: TellProgress = TELL_NOBODY): Generator<Row> {
  const { history, readings } = run;
  const happenings = history[Symbol.iterator]();
  let happening = happenings.next();
  function* thoseBefore(reading: number): Generator<Row> {
    for (; !happening.done && happening.value.afterReading < reading; happening = happenings.next()) {
      yield* happeningRows(happening.value);
    }
  }
  for (const reading of counting(readings, { step: 'readings', of: readings.size }, tell)) {
    yield* thoseBefore(reading.reading);
    yield readingRow(reading, run);
  }
  yield* thoseBefore(Number.POSITIVE_INFINITY);
}

function happeningRows(happening: Happening): Row[] {
  switch (happening.kind) {
    case 'meter':
      return meterRows(happening.meter, happening.at);
    case 'confirmed':
      return [
        { row: 'bench', item: 'cautions confirmed by', text: happening.by, at: happening.at },
        ...happening.cautions.map((caution) => textRow('bench', 'caution', caution)),
      ];
    case 'check':
      return checkRows(happening);
    case 'lapsed':
      return [{ row: 'readiness', item: 'expired', text: happening.why, at: happening.at }];
    case 'override': {
      const { reason, by, at } = happening;
      return [{ row: 'override', item: 'calibration', text: reason, by, at }];
    }
    case 'voided': {
      const { reading, reason, by, at } = happening;
      return [{ row: 'void', item: String(reading), text: reason, by, at }];
    }
    case 'held':
      return [{ row: 'hold', item: 'put on hold', text: happening.reason, by: happening.by, at: happening.at }];
    case 'hold-lifted':
      return [{ row: 'hold', item: 'lifted', text: happening.reason, by: happening.by, at: happening.at }];
    case 'decision-corrected':
      return [...decisionRows('decision was', happening.was), ...decisionRows('decision became', happening.is)];
    case 'fact-corrected': {
      const { fact, was, is, reason, by, at } = happening;
      return [
        { row: 'correction', item: fact, text: reason, by, at },
        textRow('correction', 'was', was),
        textRow('correction', 'became', is),
      ];
    }
  }
}

function decisionRows(item: string, { disposition, by, at, reason, approvedBy }: Decided): Row[] {
  return [
    { row: 'correction', item, text: disposition, by, at },
    { row: 'correction', item: 'its reason', text: reason, by: approvedBy ?? '' },
  ];
}

function checkRows({ check, outcome, why, by, at, found, reference, zeroOhms }: BenchCheck): Row[] {
  const rows: Row[] = [
    { row: 'check', item: check, text: why, by, zero_ohms: zeroOhms ?? '', verdict: outcome, at },
    ...found.map(foundRow),
  ];
  if (reference) {
    rows.push(
      textRow('reference', 'name', reference.name),
      { row: 'reference', item: 'value', ohms: reference.ohms },
      { row: 'reference', item: 'uncertainty', ohms: reference.uncertaintyOhms },
      textRow('reference', 'due', reference.due),
    );
  }
  return rows;
}

function foundRow({ what, raw, value, unit }: Found): Row {
  const row: Row = { row: 'found', item: what, meter_text: raw };
  return unit === '' || value === null ? row : { ...row, [unit]: value };
}

function readingRow(taken: Reading, run: Run): Row {
  const { reading, piece, position, at, raw, ohms, zeroOhms, temperatureOhms, uncertainty, verdict, voided, suspect } =
    taken;
  return {
    row: 'reading',
    item: String(reading),
    text: suspect ? `${suspect.why} at ${suspect.at}` : '',
    piece: String(piece),
    ...(position === null ? {} : { asked_position: String(positionOf(run, piece)), position: String(position) }),
    ohms: ohms ?? '',
    zero_ohms: zeroOhms,
    temperature_ohms: temperatureOhms,
    expanded_ohms: uncertainty?.expandedOhms ?? '',
    coverage_factor: uncertainty?.coverageFactor ?? '',
    verdict: voided ? 'void' : suspect ? 'suspect' : verdict,
    wrong_percent: wrongPercent(taken, run.window),
    meter_text: raw,
    at,
  };
}

const DIGITS_OF_RISK = 3;

function wrongPercent(reading: Reading, window: Run['window']): string {
  const { ohms, uncertainty, verdict } = reading;
  if (ohms === null || uncertainty === null || !counts(reading)) return '';
  const wrong = probabilityWrong(
    conforms(verdict),
    ohms,
    standardOhms(uncertainty),
    window,
    degreesOfFreedomOf(uncertainty),
  );
  return significantPercent(wrong, DIGITS_OF_RISK);
}
