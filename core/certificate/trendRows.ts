import type { ReelTrend } from '../drift/reelTrend.ts';
import { significant } from '../quantity/significant.ts';
import { isRefused } from '../statistics/values.ts';
import { DIGITS, probabilityRow, wordsRow } from './figureRow.ts';
import type { Row } from './format.ts';

/**
 * How the value moves along the reel, and what that means at the end of the lot.
 * @param positionsKnown whether pieces have positions, and do not only count as taken one after the other
 */
export function trendRows({ mannKendall, slope, leavesAt, words }: ReelTrend, positionsKnown: boolean): Row[] {
  const rows: Row[] = [wordsRow('trend', words)];
  if (isRefused(mannKendall) || isRefused(slope)) return rows;
  rows.push(
    {
      row: 'figure',
      item: 'trend, slope for each piece',
      text: 'Theil-Sen, with its 95 % interval',
      ohms: significant(slope.slope, DIGITS),
      lower_ohms: significant(slope.lower, DIGITS),
      upper_ohms: significant(slope.upper, DIGITS),
    },
    probabilityRow('trend, p', mannKendall.p, 'Mann-Kendall'),
  );
  if (leavesAt) {
    rows.push({
      row: 'figure',
      item: 'trend, leaves the window at',
      text: `its ${leavesAt.limit} limit`,
      [positionsKnown ? 'position' : 'piece']: String(leavesAt.piece),
    });
  }
  return rows;
}
