import type { Between, StreamMeter } from './circuit.ts';
import type { Dice } from './dice.ts';

/** Longest bounce of a contact, in milliseconds. */
export const LONGEST_BOUNCE = 30;
const BOUNCES = 4;
/** Tips that leave a piece touch it once more. */
const LAST_TOUCH = 6;
/** A finger changes from one step to the next by some per cent. */
const FINGER_STEP = 10;

/** Two hands with probes: what they do to the tips, one thing after the other. */
export class Hands {
  readonly between: Between[] = [];
  /** When somebody said by key that the piece is open. */
  readonly says: number[] = [];
  readonly busy: { from: number; to: number }[] = [];
  /** When something touched the tips that is no piece. */
  readonly nuisances: { from: number; to: number }[] = [];
  now = 0;
  readonly #dice: Dice;

  constructor(dice: Dice) {
    this.#dice = dice;
  }

  #put(ohms: number | null, milliseconds: number): void {
    this.between.push({ from: this.now, ohms });
    this.now += milliseconds;
  }

  apart(milliseconds: number): void {
    this.#put(null, milliseconds);
  }

  /** Presses the probes on something, with a bounce at the beginning and a touch at the end. */
  hold(ohms: number, milliseconds: number): void {
    this.#bounce(ohms, LONGEST_BOUNCE);
    this.#put(ohms, milliseconds - LONGEST_BOUNCE - LAST_TOUCH);
    this.#put(null, LAST_TOUCH / 2);
    this.#put(ohms, LAST_TOUCH / 2);
  }

  #bounce(ohms: number, milliseconds: number): void {
    const end = this.now + milliseconds;
    const times = Math.floor(this.#dice.between(0, BOUNCES + 1));
    for (let time = 0; time < times; time++) {
      this.#put(ohms, this.#dice.between(1, milliseconds / BOUNCES / 2));
      this.#put(null, this.#dice.between(1, milliseconds / BOUNCES / 2));
    }
    this.#put(ohms, end - this.now);
  }

  /** Lets the probes slip: off the piece for a moment, or on a film that adds resistance. */
  slip(ohms: number, milliseconds: number): void {
    if (this.#dice.happens(0.5)) {
      this.apart(milliseconds);
      return;
    }
    const end = this.now + milliseconds;
    while (this.now < end) {
      this.#put(
        ohms * (1 + this.#dice.between(0.02, 1)) + this.#dice.between(0.1, 5),
        Math.min(FINGER_STEP, end - this.now),
      );
    }
  }

  /**
   * Fingers across the tips: about a megohm, never steady.
   * @param beside what lies between the tips as well; @param unsteadiness by what share they change from one step to the next
   */
  fingers(
    milliseconds: number,
    beside: number = Number.POSITIVE_INFINITY,
    unsteadiness: number = this.#dice.between(0.002, 0.06),
  ): void {
    const end = this.now + milliseconds;
    let ohms = 3e5 * 10 ** this.#dice.between(0, 1);
    while (this.now < end) {
      ohms *= Math.exp(this.#dice.normal(unsteadiness));
      this.#put(1 / (1 / ohms + 1 / beside), Math.min(FINGER_STEP, end - this.now));
    }
    this.nuisances.push({ from: end - milliseconds, to: end });
  }

  /** Taps the tips together. */
  tap(milliseconds: number): void {
    this.nuisances.push({ from: this.now, to: this.now + milliseconds });
    this.hold(this.#dice.between(0.02, 0.3), milliseconds);
  }

  sayOpen(): void {
    this.says.push(this.now);
  }

  /** The meter does something else from now on. */
  meterBusy(milliseconds: number): void {
    this.busy.push({ from: this.now, to: this.now + milliseconds });
  }
}

/** For how long tips must be apart so that a meter shows them open for `milliseconds` for certain. */
export function apartFor(milliseconds: number, meter: StreamMeter): number {
  const interval = (1000 / meter.readingsPerSecond) * 1.05;
  const charging = (meter.rangeOhms ?? 0) * 1.2 * meter.farads * 1000;
  return milliseconds + 2 * interval + meter.apertureMilliseconds + charging + 1;
}
