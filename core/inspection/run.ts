import type { List } from 'immutable';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Verdict } from '../window/judge.ts';
import type { Disposition, LotFacts, MeterFacts } from './event.ts';
import type { Tally } from './tally.ts';

/** One reading of a run as it stands now. */
export interface Reading {
  reading: number;
  piece: number;
  at: string;
  raw: string;
  /** Exact value; null for the meter's overload. */
  ohms: DecimalText | null;
  verdict: Verdict;
  /** Set when the reading does not count, and why. It stays in the record. */
  voided: { by: string; reason: string; at: string } | null;
}

/** Somebody confirmed that the bench was ready and the cautions kept. */
export interface BenchConfirmation {
  by: string;
  at: string;
  cautions: string[];
}

/** A run as its events have made it. */
export interface Run extends LotFacts {
  receivedAt: string;
  meter: MeterFacts | null;
  /** The confirmation that holds now; null when the meter was connected anew since. */
  benchConfirmed: BenchConfirmation | null;
  /** All confirmations, those of earlier connections too. */
  confirmations: readonly BenchConfirmation[];
  readings: List<Reading>;
  tally: Tally;
  /** Pieces whose reading was voided and that are to be measured again, in order. */
  again: readonly number[];
  /** Why no reading can be taken now; null while all is well. */
  interrupted: { why: string; at: string } | null;
  decided: { disposition: Disposition; by: string; at: string; reason: string } | null;
  certificates: readonly { file: string; sha256: string; at: string }[];
}

/** What the plan says of the lot by now. */
export type Outlook = 'undecided' | 'accept' | 'not-accept';

/**
 * What the plan says: not accepted as soon as the rejection number is reached, accepted when the sample is complete
 * and no more than the acceptance number are nonconforming (MIL-STD-105E, 4.9.1 single sampling plan).
 */
export function outlook(run: Pick<Run, 'tally' | 'plan'>): Outlook {
  const { tally, plan } = run;
  if (tally.nonconforming >= plan.reject) return 'not-accept';
  return tally.counted >= plan.sampleSize && tally.nonconforming <= plan.accept ? 'accept' : 'undecided';
}

/** The step of the job a run has come to. */
export type Step = 'ready' | 'measure' | 'decide' | 'certify';

/** Which step comes next. A lot on hold is at `certify`, as any decided lot. */
export function stepOf(run: Run): Step {
  if (run.decided) return 'certify';
  if (outlook(run) !== 'undecided') return 'decide';
  return run.meter && run.benchConfirmed ? 'measure' : 'ready';
}

/** Number of the piece to be measured next: one to be repeated, else the next new one. */
export function nextPiece(run: Pick<Run, 'again' | 'tally'>): number {
  return run.again[0] ?? run.tally.counted + 1;
}
