import { meanOf, squaresAboutMean, sum } from './deviations.ts';

/** A pooled standard deviation in ohms with its degrees of freedom. */
export interface Level {
  sdOhms: number;
  df: number;
}

/** The repeats of one piece in one session, summed up. Ohms; a mean may be less a constant common to all. */
export interface SessionSummary {
  piece: string;
  run: number;
  session: number;
  mean: number;
  sd: number;
}

/** The three levels of a balanced nested study; null where there is nothing to tell a level from. */
export interface Levels {
  /** Level 1: standard deviation of repeats within a session. */
  repeatability: Level;
  /** Level 2: standard deviation of session means within a run. */
  dayToDay: Level | null;
  /** Level 3: standard deviation of run means. */
  runToRun: Level | null;
  /** Of one reading taken on any day of any run. */
  oneReading: Level;
}

/**
 * Levels 1 to 3 of a study in which every piece has the same sessions in every run and `repeats` repeats in each:
 * standard deviations pooled over pieces and whatever is below. One reading on any day has the variance
 * s3² + (K - 1)/K s2² + (J - 1)/J s1² with K sessions and J repeats, its degrees of freedom by Welch-Satterthwaite.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 2.4.4 (repeatability, reproducibility, stability) and 2.6.1
 * (check of gauges for resistivity), from memory.
 */
export function levelsOf(summaries: readonly SessionSummary[], repeats: number): Levels {
  const runs = groupedBy(summaries, ({ piece, run }) => JSON.stringify([piece, run]));
  const pieces = groupedBy(
    runs.map((of) => ({ piece: of[0]?.piece, mean: meanOf(of.map(({ mean }) => mean)) })),
    ({ piece }) => String(piece),
  );
  const df1 = summaries.length * (repeats - 1);
  const repeatability = { sdOhms: Math.sqrt(meanOf(summaries.map(({ sd }) => sd * sd))), df: df1 };
  const dayToDay = pooledOf(runs);
  const runToRun = pooledOf(pieces);
  const sessions = runs[0]?.length ?? 1;
  const terms: (readonly [weight: number, of: Level | null])[] = [
    [1, runToRun],
    [runToRun === null ? 1 : (sessions - 1) / sessions, dayToDay],
    [runToRun === null && dayToDay === null ? 1 : (repeats - 1) / repeats, repeatability],
  ];
  return { repeatability, dayToDay, runToRun, oneReading: combined(terms) };
}

function groupedBy<T>(items: readonly T[], key: (item: T) => string): T[][] {
  return [...Map.groupBy(items, key).values()];
}

/** Standard deviation of the means within their groups, pooled; null where the groups have one mean each. */
function pooledOf(groups: readonly (readonly { mean: number }[])[]): Level | null {
  const df = sum(groups.map((group) => group.length - 1));
  if (df === 0) return null;
  const squares = sum(groups.map((group) => squaresAboutMean(group.map(({ mean }) => mean))));
  return { sdOhms: Math.sqrt(squares / df), df };
}

/** Square root of the weighted sum of variances, with effective degrees of freedom (JCGM 100:2008, G.4.1). */
function combined(terms: readonly (readonly [weight: number, of: Level | null])[]): Level {
  let variance = 0;
  let spread = 0;
  for (const [weight, of] of terms) {
    if (of === null) continue;
    const share = weight * of.sdOhms ** 2;
    variance += share;
    spread += share ** 2 / of.df;
  }
  return { sdOhms: Math.sqrt(variance), df: variance ** 2 / spread };
}
