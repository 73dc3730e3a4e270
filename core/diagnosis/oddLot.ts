import type { Tolerance, Window } from '../window/window.ts';

/** One reading of a lot as it was taken. */
export interface LotReading {
  /** Null for the meter's overload. */
  ohms: number | null;
  piece: number;
  /** Where along the reel the piece was, from 1; its number where that is not known. */
  position: number;
  /** Since any moment that is the same for all of the lot. */
  atMilliseconds: number;
  /** False of one that was made void or whose piece was measured again: it may say only what happens while a piece is held. */
  counts: boolean;
}

/** A reference resistor as it was measured between the readings. */
export interface LotReference {
  /** How many readings had been taken before. */
  afterReading: number;
  atMilliseconds: number;
  /** What it is called: only the same one tells of the meter. */
  name: string;
  trueOhms: number;
  measuredOhms: number;
  /** Expanded, of its value. */
  uncertaintyOhms: number;
  /** The check it was measured in failed: it has moved by more than a meter may. */
  failed: boolean;
}

/** The readings of a lot with what they should be. */
export interface OddLot {
  window: Window;
  tolerance: Tolerance;
  method: '2-wire' | '4-wire';
  /** Expanded uncertainty (k = 2) of one reading; null where it is not known. */
  expandedOhms: number | null;
  /** What the last digit of the meter is worth; null where it is not known. */
  resolutionOhms: number | null;
  /** In the order they were taken. */
  readings: readonly LotReading[];
  /** In the order they were measured. */
  references: readonly LotReference[];
}

/** What may be wrong with a lot, or with the bench while it was measured. */
export type LotCause =
  | 'broken lead'
  | 'shorts throughout'
  | 'source connected'
  | 'wrong range or function'
  | 'unstable contact'
  | 'fingers on the tips'
  | 'meter drift'
  | 'warming'
  | 'added lead or contact resistance'
  | 'decade slip'
  | 'bands from the other end'
  | 'another preferred value'
  | 'a path beside each piece'
  | 'off its value'
  | 'spliced reel'
  | 'trend along the reel'
  | 'sorted lot'
  | 'mixed reel'
  | 'strays of another value'
  | 'open pieces';

/** One thing that explains a lot. It changes no verdict. */
export interface LotExplained {
  cause: LotCause;
  /** How well it explains it, 0 to 1; our choice, for the order only. */
  weight: number;
  /** In figures: whole sentences. */
  evidence: string;
  /** What to do next to find out: a whole sentence. */
  next: string;
}
