import type { HistoryRow } from '../../core/contract/history.ts';
import { type FiguresOfLot, figuresOfLot, ppkOf } from '../../core/inspection/figuresOfLot.ts';
import { type LotOutcome, lotOutcome } from '../../core/inspection/lotOutcome.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { PractisedRun } from '../../core/practice/practisedRun.ts';
import { asProblem } from '../../core/problem/problem.ts';
import { summaryOf } from '../station/runSummary.ts';

/** A reading that does not count any more. */
export interface Withdrawn {
  reading: number;
  how: 'void' | 'suspect';
  why: string;
  /** Null where nobody did it: a check failed. */
  by: string | null;
  at: string;
}

/** A run as it stands in the tables of runs (runTables.ts). */
export interface RunRow extends HistoryRow {
  /** Place in the record of the last entry that is folded in. */
  upTo: number;
  voided: number;
  suspect: number;
  /** How the lot came out, as far as later ones are judged by it. */
  outcome: LotOutcome | null;
  /** What was done of an exercise; null of a run that is none. */
  practised: PractisedRun | null;
  /** Gone through only where there are others than before. */
  withdrawn: () => Withdrawn[];
}

/** Figures of readings that were worked out last: a certificate that is written changes none of them. */
const worked = new WeakMap<Run['readings'], Pick<RunRow, 'figures' | 'ppk'>>();

/** The row of a run; null where it cannot be made, of which the process warns: no event is lost to that. */
export function rowOf(number: number, run: Run, upTo: number): RunRow | null {
  try {
    return madeRow(number, run, upTo);
  } catch (thrown) {
    process.emitWarning(asProblem(thrown));
    return null;
  }
}

function madeRow(number: number, run: Run, upTo: number): RunRow {
  const { part, lot, window, decided, tally } = run;
  const ohms = (text: string | null) => (text === null ? null : Number(text));
  return {
    ...summaryOf(number, run),
    upTo,
    description: part.description,
    reel: lot.reel,
    nominalOhms: ohms(window.nominal),
    lowerOhms: ohms(window.lower),
    upperOhms: ohms(window.upper),
    voided: tally.voided,
    suspect: tally.suspect,
    decidedAt: decided?.at ?? null,
    decidedBy: decided?.by ?? null,
    reason: decided?.reason ?? null,
    approvedBy: decided?.approvedBy ?? null,
    offeredAgainAfter: lot.offeredAgainAfter,
    severity: run.plan.choice.kind === 'aql' ? run.plan.choice.severity : null,
    outcome: lotOutcome(number, run),
    practised: practisedOf(run),
    certificates: run.certificates.length,
    ...(decided ? figuresOf(run) : NO_FIGURES),
    withdrawn: () => withdrawnOf(run),
  };
}

function practisedOf({ practice, practised: { named, scored } }: Run): PractisedRun | null {
  if (!practice) return null;
  const { exercise, title, digest } = practice;
  return {
    exercise,
    title,
    digest,
    named: named?.cause ?? null,
    which: named?.which ?? null,
    marks: scored?.marks.map(({ mark, points, of }) => ({ mark, points, of })) ?? null,
  };
}

const NO_FIGURES = { figures: null, ppk: null };

/** Figures that cannot be worked out are none: an event is kept whatever becomes of them. */
function figuresOf(run: Run): Pick<RunRow, 'figures' | 'ppk'> {
  const before = worked.get(run.readings);
  if (before) return before;
  const figures: Pick<RunRow, 'figures' | 'ppk'> = {
    figures: orNull(() => figuresOfLot(run)),
    ppk: orNull(() => ppkOf(run)),
  };
  worked.set(run.readings, figures);
  return figures;
}

function orNull<T extends FiguresOfLot | number | null>(work: () => T): T | null {
  try {
    return work();
  } catch {
    return null;
  }
}

function withdrawnOf(run: Run): Withdrawn[] {
  const all: Withdrawn[] = [];
  for (const { reading, voided, suspect } of run.readings.judged()) {
    if (voided) all.push({ reading, how: 'void', why: voided.reason, by: voided.by, at: voided.at });
    else if (suspect) all.push({ reading, how: 'suspect', why: suspect.why, by: null, at: suspect.at });
  }
  return all;
}
