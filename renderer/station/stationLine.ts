import type { StationClient } from '../../core/contract/contract.ts';

/** The way to the station from this window: through the desktop's bridge or over the loopback door. */
export interface StationLine extends StationClient {
  readonly door: 'desktop' | 'loopback';
  /** Calls back at once, and then whenever the line comes up or drops; returns how to stop. */
  watch(hear: (up: boolean) => void): () => void;
}
