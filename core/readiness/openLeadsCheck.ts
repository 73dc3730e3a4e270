import { problem } from '../problem/problem.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { type Bench, counted, failed, type Judged, passed, shownAs } from './bench.ts';
import type { Found } from './check.ts';

/**
 * Leads that touch nothing must read overload. Any value means that something lies across them, or inside the meter; an
 * overload below zero, which no resistance can be, that a voltage does.
 */
export function judgeOpenLeads({ measurement: { method } }: Bench, found: readonly Found[]): Judged {
  const readings = shownAs(found, method);
  if (readings.length === 0) throw problem('check-incomplete', 'open-leads', `a ${method} reading`);
  if (readings.some(({ value, raw }) => value === null && raw.trimStart().startsWith('-'))) {
    return failed('overload below zero with open leads', 'Look for a voltage on the leads');
  }
  const value = readings.find((reading) => reading.value !== null)?.value;
  if (value == null) return passed(`overload with open leads, ${counted(readings.length)}`);
  return failed(
    `${formatOhms(value)} with open leads instead of overload`,
    'Hold the tips apart and off everything, fingers and fixture too; if it stays, look for dirt or damage in leads and sockets',
  );
}
