import type { HistoryFilters } from '../../core/contract/history.ts';

/** Conditions on the table `run` that all must hold, and the values that are named in them. */
export interface Conditions {
  wheres: string[];
  values: Record<string, string | number>;
}

/** Which runs are looked for, as conditions on the table `run`. */
export function conditionsOf(asked: HistoryFilters): Conditions {
  const wheres: string[] = [];
  const values: Record<string, string | number> = {};
  const add = (name: string, condition: string, value: string | number | undefined) => {
    if (value === undefined) return;
    wheres.push(condition);
    values[name] = value;
  };
  add('part', 'part = @part', asked.part);
  add('supplier', 'supplier = @supplier', asked.supplier);
  add('lot', 'lot = @lot', asked.lot);
  add('inspector', 'inspector = @inspector', asked.inspector);
  add('text', 'instr(search, @text) > 0', asked.text === undefined ? undefined : searchable(asked.text));
  if (asked.disposition === 'undecided') wheres.push('disposition IS NULL');
  else add('disposition', 'disposition = @disposition', asked.disposition);
  add('from', 'received_ms >= @from', asked.from && startOfDay(asked.from, 0));
  add('to', 'received_ms < @to', asked.to && startOfDay(asked.to, 1));
  add('practice', 'practice = @practice', asked.practice === undefined ? undefined : Number(asked.practice));
  add('study', 'study = @study', asked.study === undefined ? undefined : Number(asked.study));
  return { wheres, values };
}

/** Conditions as they stand in a query; none of none. */
export function whereOf(conditions: readonly string[]): string {
  return conditions.length === 0 ? '' : `WHERE ${conditions.join(' AND ')}`;
}

/** As texts are compared: in one form of Unicode and without capitals. */
export function searchable(text: string): string {
  return text.normalize('NFKC').toLowerCase();
}

/** When a day like `2026-03-02` begins by this computer's clock, or so many days after it; milliseconds since 1970. */
function startOfDay(day: string, daysAfter: number): number {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  return new Date(year, month - 1, date + daysAfter).getTime();
}
