import type { ContinuityStep } from '../continuity/continuityRun.ts';
import type { ContinuityDisposition } from '../continuity/event.ts';

/** A continuity run in the list of them. */
export interface ContinuityListed {
  run: number;
  receivedAt: string;
  title: string;
  drawing: string;
  serial: string;
  inspector: string;
  pointCount: number;
  asExpected: number;
  notAsExpected: number;
  cannotTell: number;
  skipped: number;
  step: ContinuityStep;
  disposition: ContinuityDisposition | null;
  decidedAt: string | null;
  decidedBy: string | null;
  reason: string | null;
  approvedBy: string | null;
  certificates: number;
  simulated: boolean;
}

/** The latest of those that are looked for, and how many there are of them in all. */
export interface ContinuityList {
  runs: ContinuityListed[];
  total: number;
}
