import Big from 'big.js';
import type { Capture } from '../../core/capture/capture.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { Reading } from '../../instruments/meter/meter.ts';

/** How long the leads must look open before it is looked on any range, and how often then. */
const OPEN_MILLISECONDS = 1200;
const LOOK_EVERY_MILLISECONDS = 1000;
/** Meters commonly read up to 1.2 times the range they name. */
const OVER_RANGE = 1.2;
/** A piece so near to the end of the range is now and then above it, by the noise or by its contact. Our choice. */
const NEAR_END = 0.95;

/**
 * When capture looks on any range: on a fixed one a piece above it looks like open leads. A look costs several exchanges, so it
 * is taken now and then while the leads look open, again and again while somebody has said that a piece is open, and from
 * then on as long as a piece above the fixed range is on the probes. One that was captured there is looked at on any range until
 * it is lifted, also when it slips: on the fixed range it would look lifted, and count again.
 */
export class RangeLook {
  #isAbove = false;
  /** A look has shown something that the fixed range shows better. */
  #fits = false;
  #openSince: number | null = null;
  #lookedAt = Number.NEGATIVE_INFINITY;

  /** Whether the next reading is taken on any range. */
  wantsAnyRange(run: Run, { phase, heldOhms }: Pick<Capture, 'phase' | 'heldOhms'>, now: number): boolean {
    if (run.meter?.setting.range !== 'fixed') return false;
    if (isAtEnd(run, heldOhms)) return true;
    if (this.#fits) return false;
    if (this.#isAbove || phase === 'open-said') return true;
    const isOpen = this.#openSince !== null && now - this.#openSince >= OPEN_MILLISECONDS;
    return isOpen && now - this.#lookedAt >= LOOK_EVERY_MILLISECONDS;
  }

  /** Takes a reading into account. Returns whether it says what is on the probes; else the fixed range says it better. */
  note(run: Run, { heldOhms }: Pick<Capture, 'heldOhms'>, reading: Reading, anyRange: boolean, now: number): boolean {
    if (anyRange) this.#lookedAt = now;
    const isOpen = reading.kind === 'overload';
    if (!isOpen) this.#openSince = null;
    else this.#openSince ??= now;
    this.#fits = anyRange && !isOpen && !isAtEnd(run, heldOhms) && fits(run, reading.ohms);
    this.#isAbove = anyRange && !isOpen && !this.#fits;
    return !this.#fits;
  }
}

/** The highest value that the fixed range of the run shows; null where it does not say. */
function endOf({ meter }: Run): Big | null {
  const range = meter?.setting.rangeOhms ?? null;
  return range === null ? null : new Big(range).times(OVER_RANGE);
}

/** Whether the fixed range of the run shows a value as well. */
function fits(run: Run, ohms: string): boolean {
  const end = endOf(run);
  return end === null || new Big(ohms).abs().lte(end);
}

/** Whether a piece that was captured is above the fixed range or near to its end. */
function isAtEnd(run: Run, heldOhms: number | null): boolean {
  const end = endOf(run);
  return end !== null && heldOhms !== null && end.times(NEAR_END).lte(heldOhms);
}
