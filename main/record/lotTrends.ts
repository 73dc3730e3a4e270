import type Database from 'better-sqlite3';
import type { HistoryFilters } from '../../core/contract/history.ts';
import { type LotTrends, MOST_TREND_LOTS, type TrendPoint } from '../../core/contract/lotTrends.ts';
import type { Disposition } from '../../core/inspection/event.ts';
import { type Conditions, conditionsOf, whereOf } from './historyConditions.ts';

/** What is under way has no part in a trend yet. */
const DECIDED = 'disposition IS NOT NULL';

/**
 * How the lots went that are looked for, from the table of runs; of more than 2000 lots by month. Practice never stands beside real lots:
 * where both are looked for, the real ones are taken, and practice only where there is no real one. Studies are no lots.
 */
export function trendsOf(database: Database.Database, asked: HistoryFilters): LotTrends {
  const { study: _, ...filters } = asked;
  const practice = filters.practice ?? !hasRealLots(database, filters);
  const looked = conditionsOf({ ...filters, practice, study: false });
  const dispositions = dispositionsOf(database, looked);
  const lots = Object.values(dispositions).reduce((sum, count) => sum + count, 0);
  const unit = filters.part === undefined ? 'percent' : 'ohms';
  const by = lots > MOST_TREND_LOTS ? 'month' : 'lot';
  const points = (by === 'lot' ? byLot : byMonth)(database, looked, unit);
  return { unit, practice, by, lots, dispositions, points };
}

function hasRealLots(database: Database.Database, filters: HistoryFilters): boolean {
  const { wheres, values } = conditionsOf({ ...filters, practice: false, study: false });
  // A lot that was never measured has no meter yet by which it would be practice.
  const measured = whereOf([...wheres, DECIDED, 'counted > 0']);
  return database.prepare(`SELECT 1 FROM run ${measured} LIMIT 1`).get(values) !== undefined;
}

function dispositionsOf(database: Database.Database, { wheres, values }: Conditions): LotTrends['dispositions'] {
  const counts: LotTrends['dispositions'] = {
    accepted: 0,
    'not-accepted': 0,
    'on-hold': 0,
    studied: 0,
    undecided: 0,
  };
  const found = database
    .prepare(`SELECT disposition, count(*) AS count FROM run ${whereOf(wheres)} GROUP BY disposition`)
    .all(values) as { disposition: Disposition | null; count: number }[];
  for (const { disposition, count } of found) counts[disposition ?? 'undecided'] = count;
  return counts;
}

/** A column of ohms as it is charted. Of several parts only shares of a nominal value stand beside each other. */
function charted(column: string, unit: LotTrends['unit'], kind: 'place' | 'width'): string {
  if (unit === 'ohms') return column;
  const from = kind === 'place' ? `(${column} - nominal_ohms)` : column;
  return `CASE WHEN nominal_ohms > 0 THEN 100.0 * ${from} / nominal_ohms END`;
}

function byLot(
  database: Database.Database,
  { wheres, values }: Conditions,
  unit: LotTrends['unit'],
): LotTrends['points'] {
  return database
    .prepare<unknown[], TrendPoint>(
      `SELECT run, lot AS name, received_ms AS receivedMs, 1 AS lots, counted AS measured, nonconforming,
              coalesce(values_counted, 0) AS count, coalesce(left_out, 0) AS leftOut,
              ${charted('mean_ohms', unit, 'place')} AS mean, ${charted('sd_ohms', unit, 'width')} AS spread,
              ${charted('lower_ohms', unit, 'place')} AS lower, ${charted('upper_ohms', unit, 'place')} AS upper,
              ppk, disposition
       FROM run ${whereOf([...wheres, DECIDED])} ORDER BY received_ms, run`,
    )
    .all(values);
}

/** A month as it is worked out: sum of squares and degrees of freedom of its spreads, and the outermost limits. */
type Month = Omit<TrendPoint, 'spread'> & {
  squares: number | null;
  freedom: number | null;
  leastLower: number | null;
  mostUpper: number | null;
};

function byMonth(
  database: Database.Database,
  { wheres, values }: Conditions,
  unit: LotTrends['unit'],
): LotTrends['points'] {
  const spread = charted('sd_ohms', unit, 'width');
  return database
    .prepare<unknown[], Month>(
      `SELECT NULL AS run, strftime('%Y-%m', received_ms / 1000, 'unixepoch', 'localtime') AS name,
              min(received_ms) AS receivedMs, count(*) AS lots, sum(counted) AS measured,
              sum(nonconforming) AS nonconforming, sum(coalesce(values_counted, 0)) AS count,
              sum(coalesce(left_out, 0)) AS leftOut, avg(${charted('mean_ohms', unit, 'place')}) AS mean,
              sum((values_counted - 1) * ${spread} * ${spread}) AS squares,
              sum(CASE WHEN ${spread} IS NOT NULL THEN values_counted - 1 END) AS freedom,
              max(${charted('lower_ohms', unit, 'place')}) AS lower, min(${charted('upper_ohms', unit, 'place')}) AS upper,
              min(${charted('lower_ohms', unit, 'place')}) AS leastLower,
              max(${charted('upper_ohms', unit, 'place')}) AS mostUpper,
              min(ppk) AS ppk, NULL AS disposition
       FROM run ${whereOf([...wheres, DECIDED])} GROUP BY name ORDER BY name`,
    )
    .all(values)
    .map(({ squares, freedom, leastLower, mostUpper, ...month }) => ({
      ...month,
      spread: squares !== null && freedom ? Math.sqrt(squares / freedom) : null,
      lower: isSame(month.lower, leastLower) ? month.lower : null,
      upper: isSame(month.upper, mostUpper) ? month.upper : null,
    }));
}

/** Limits of one and the same claim differ by rounding where they are in per cent. */
function isSame(a: number | null, b: number | null): boolean {
  return a !== null && b !== null && Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
}
