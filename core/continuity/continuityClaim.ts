import * as z from 'zod';
import { lineOfText, namedText } from '../inspection/text.ts';
import { problem } from '../problem/problem.ts';
import { decimalText } from '../quantity/decimal.ts';
import { CROSS_CHOICES, type CrossChoice, crossPairs } from './crossPairs.ts';
import type { ContinuityFacts } from './event.ts';
import { mustBeLimits, USUAL_LIMITS } from './limits.ts';
import { type ListedPoint, MOST_POINTS, type Point } from './point.ts';
import { type PointsRead, readPointList } from './readPointList.ts';

/** Ours: a lead that breaks spoils no more than that. */
const USUAL_READINGS_BETWEEN_CHECKS = 100;

/** A continuity run as somebody describes it; the list as the text of its CSV file. */
export const continuityClaim = z.strictObject({
  inspector: namedText,
  title: namedText,
  drawing: lineOfText.default(''),
  serial: lineOfText.default(''),
  csv: z.string().max(2_000_000, 'the file is too long'),
  cross: z.enum(CROSS_CHOICES).default('nets'),
  closedBelowOhms: decimalText.default(USUAL_LIMITS.closedBelowOhms),
  openAboveOhms: decimalText.default(USUAL_LIMITS.openAboveOhms),
  checksEveryReadings: z.number().int().min(1).max(MOST_POINTS).default(USUAL_READINGS_BETWEEN_CHECKS),
});
export type ContinuityClaim = z.output<typeof continuityClaim>;

/**
 * What a run is received with.
 * @throws problems continuity-list-unreadable, continuity-list-faulty at the first bad row, continuity-limits-wrong,
 *   continuity-too-many-points
 */
export function continuityFactsOf({
  csv,
  cross,
  closedBelowOhms,
  openAboveOhms,
  ...rest
}: ContinuityClaim): ContinuityFacts {
  const limits = { closedBelowOhms, openAboveOhms };
  mustBeLimits(limits);
  const { points, bad } = readPointList(csv);
  const [first] = bad;
  if (first) throw problem('continuity-list-faulty', first.row, first.column ?? 'the row', first.value, first.why);
  return { ...rest, cross, limits, points: allPoints(points, cross) };
}

/** The points of a list and those that follow from it, numbered. @throws problem continuity-too-many-points */
export function allPoints(listed: readonly ListedPoint[], cross: CrossChoice): Point[] {
  const pairs = crossPairs(listed, cross, MOST_POINTS);
  const count = listed.length + pairs.length;
  if (count > MOST_POINTS) throw problem('continuity-too-many-points', MOST_POINTS);
  return [
    ...listed.map((one, index): Point => ({ point: index + 1, ...one, origin: 'listed' })),
    ...pairs.map(
      ([from, to], index): Point => ({
        point: listed.length + index + 1,
        wire: '',
        from,
        to,
        expected: 'open',
        limitOhms: null,
        state: '',
        note: '',
        origin: 'cross',
      }),
    ),
  ];
}

/** What importing a list would give: its points, what is wrong with it, and how many pairs each choice of cross-connections adds. */
export interface ContinuityPreview extends PointsRead {
  terminals: number;
  /** Null where it would be more than a run can have. */
  crossCounts: Record<CrossChoice, number | null>;
}

/** @throws problem continuity-list-unreadable */
export function previewPoints(csv: string): ContinuityPreview {
  const read = readPointList(csv);
  const room = MOST_POINTS - read.points.length;
  const counts = CROSS_CHOICES.map((choice) => {
    const { length } = crossPairs(read.points, choice, room);
    return [choice, length > room ? null : length] as const;
  });
  return {
    ...read,
    terminals: new Set(read.points.flatMap(({ from, to }) => [from, to])).size,
    crossCounts: Object.fromEntries(counts) as Record<CrossChoice, number | null>,
  };
}
