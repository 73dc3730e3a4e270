import type { CapturePhase } from '../capture/capture.ts';
import type { ContinuityStep } from '../continuity/continuityRun.ts';
import type { ContinuityDisposition } from '../continuity/event.ts';
import type { ProblemText } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';

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

/** How the meter of continuity runs stands. One that is lost is connected again by a person: the leads are checked anew then. */
export type ContinuityLink =
  | { state: 'none' }
  | { state: 'connecting'; run: number; address: string }
  | { state: 'connected'; run: number; address: string; simulated: boolean }
  | { state: 'lost'; run: number; address: string; why: ProblemText };

/**
 * How the probes stand while a list is gone through hands-free. `switch`: it waits until somebody says that a switch stands as the next
 * point has it; `off`: it has ended.
 */
export type SteppingPhase = CapturePhase | 'switch' | 'off';

export interface Stepping {
  run: number;
  phase: SteppingPhase;
  /** The point that is to be touched now; null where none is left. */
  point: number | null;
  /** The point whose reading was taken and that is still held. */
  held: number | null;
  /** The reading of this moment in ohms, the zero subtracted; null for overload, and where there is none. */
  ohms: DecimalText | null;
  /** Whether it is below the limit for closed: the tone sounds. */
  closed: boolean;
  /** What has just happened. */
  outcome?: 'contact' | 'captured' | 'open-said' | 'released' | 'trouble';
  /** With the outcome `trouble`: what it is. */
  troubleWords?: string;
  /** With `off`: what ended it; missing where it was asked to end. */
  why?: ProblemText;
}
