import * as z from 'zod';
import type { CapturePhase } from '../capture/capture.ts';
import { type CaptureSetting, captureChoice } from '../capture/setting.ts';
import type { ProblemText } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';

/** Who says when a reading is taken: the hands, by touching a piece with the probes, or the meter's own trigger. */
export const liveBy = z.enum(['hands', 'trigger']);
export type LiveBy = z.output<typeof liveBy>;

/** What of a capture may be set otherwise than it follows from the run. */
export const captureOverrides = captureChoice;
export type CaptureOverrides = z.input<typeof captureOverrides>;

/**
 * Where a capture stands. `waiting`: for the meter's own trigger, or while something else has the meter; `off`: ended;
 * the others as in core/capture.
 */
export type LivePhase = CapturePhase | 'waiting' | 'off';

/** What has just happened at the probes. */
export type LiveOutcome = 'contact' | 'captured' | 'released' | 'open-said' | 'trouble';

/** How the probes stand now. */
export interface Live {
  /** Number of the capture it is of, 1 and up since the station began. */
  capture: number;
  run: number;
  by: LiveBy;
  phase: LivePhase;
  /** So many readings agree by now, of so many that must. */
  steady: number;
  of: number;
  /** The reading of this moment in ohms, nothing subtracted; null for overload, and where there is none. */
  ohms: DecimalText | null;
  /** The piece that is next, or the one that is held. */
  piece: number;
  /** With `off`: what ended it; missing where it was asked to end. */
  why?: ProblemText;
  outcome?: LiveOutcome;
  /** With the outcome `trouble`: what it is, in words. */
  troubleWords?: string;
}

/** What a capture was started with, each parameter in words as well. */
export interface CaptureStarted {
  /** Its number; `stop-capture` with it ends this one and no later one. */
  capture: number;
  setting: CaptureSetting;
  words: string[];
}

/**
 * Whether the probes of the meter at an address close a circuit, which they do below a resistance in ohms; `why` says what ended it
 * where nobody asked for its end.
 */
export type Continuity =
  | {
      on: true;
      closed: boolean;
      ohms: DecimalText | null;
      address: string;
      simulated: boolean;
      closedBelowOhms: DecimalText;
    }
  | { on: false; why?: ProblemText };
