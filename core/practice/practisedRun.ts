import type { Disposition } from '../inspection/event.ts';
import type { PracticeCause } from './practiceCause.ts';

/** What was done of an exercise, as the list of runs keeps it. */
export interface PractisedRun {
  exercise: string;
  title: string;
  digest: string;
  /** What was named as the cause, and where; null where nothing was. */
  named: PracticeCause | null;
  which: number | null;
  /** Null before the debrief. Their reasons stand in the run: they would tell others what it was. */
  marks: readonly { mark: string; points: number; of: number }[] | null;
}

/** How one exercise of one trainee went. */
export interface PracticeResult extends PractisedRun {
  run: number;
  trainee: string;
  begunAt: string;
  decidedAt: string | null;
  disposition: Disposition | null;
  /** Readings that count. */
  readings: number;
}

/** The points of a result and what they are of; null before the debrief. */
export function totalOf({ marks }: Pick<PractisedRun, 'marks'>): { points: number; of: number } | null {
  if (marks === null) return null;
  const sum = (key: 'points' | 'of') => marks.reduce((total, mark) => total + mark[key], 0);
  return { points: sum('points'), of: sum('of') };
}
