import type { Dice } from './dice.ts';

/** What lies between the tips for a while; `ohms` null for nothing. Times in milliseconds. */
export interface Between {
  from: number;
  ohms: number | null;
}

/** A meter of our own invention, as far as a stream of readings shows it. */
export interface StreamMeter {
  /** Full scale; null where it chooses its range for every reading. */
  rangeOhms: number | null;
  readingsPerSecond: number;
  /** For how long before its end a reading looks. */
  apertureMilliseconds: number;
  /** Standard deviation in millionths of the range. */
  noisePpm: number;
  /** Standard deviation of what a hand-held contact adds, from one reading to the next. */
  handOhms: number;
  /** Capacitance of leads and hands. */
  farads: number;
}

export interface StreamReading {
  atMilliseconds: number;
  ohms: number | null;
}

const HIGHEST_RANGE = 1e8;
const OVER_RANGE = 1.2;
/** Where the current source of open leads ends, in ranges. */
const COMPLIANCE = 2.5;
const DIGIT_OF_RANGE = 1e-6;
/** Readings do not come quite evenly. */
const TIME_JITTER = 0.05;

export function decadeAbove(ohms: number): number {
  return 10 ** Math.min(8, Math.max(2, Math.ceil(Math.log10(Math.max(ohms, 1) / OVER_RANGE))));
}

export function noiseOhms({ rangeOhms, noisePpm }: StreamMeter, ohms: number): number {
  return (rangeOhms ?? decadeAbove(ohms)) * noisePpm * 1e-6;
}

/**
 * The readings of a meter that sends a current through what lies between its tips and reads the voltage: leads and hands are a
 * capacitor across it. What conducts is approached exponentially with the time constant R·C; open leads charge up to the
 * compliance of the source. A reading is the mean over its aperture: one that looks at contact and no contact shows neither.
 * @param busy when the meter does something else and sends nothing
 */
export function readingsOf(
  between: readonly Between[],
  until: number,
  meter: StreamMeter,
  dice: Dice,
  busy: readonly { from: number; to: number }[] = [],
): StreamReading[] {
  const circuit = new Circuit(between, meter);
  const readings: StreamReading[] = [];
  const interval = 1000 / meter.readingsPerSecond;
  let at = interval * dice.between(0.5, 1.5);
  let jobs = 0;
  while (at < until) {
    while ((busy[jobs]?.to ?? Number.POSITIVE_INFINITY) < at) jobs++;
    const job = busy[jobs];
    if (job && at > job.from) {
      at = job.to + interval;
      continue;
    }
    const before = circuit.integralTo(at - meter.apertureMilliseconds);
    const mean = (circuit.integralTo(at) - before) / (meter.apertureMilliseconds / 1000);
    readings.push({ atMilliseconds: at, ohms: shown(mean, meter, dice) });
    at += interval * (1 + dice.between(-TIME_JITTER, TIME_JITTER));
  }
  return readings;
}

function shown(ohms: number, meter: StreamMeter, dice: Dice): number | null {
  const noise = dice.normal(noiseOhms(meter, ohms)) + dice.normal(meter.handOhms);
  const range = meter.rangeOhms ?? decadeAbove(ohms);
  if (!(ohms <= (meter.rangeOhms ?? HIGHEST_RANGE) * OVER_RANGE)) return null;
  const digit = range * DIGIT_OF_RANGE;
  return Math.round((ohms + noise) / digit) * digit;
}

class Circuit {
  readonly #between: readonly Between[];
  readonly #meter: StreamMeter;
  #index = 0;
  #now = 0;
  #shown: number;
  /** Of what is shown, over time, in ohm seconds. */
  #integral = 0;

  constructor(between: readonly Between[], meter: StreamMeter) {
    this.#between = between;
    this.#meter = meter;
    this.#shown = this.#most();
  }

  #most(): number {
    return (this.#meter.rangeOhms ?? HIGHEST_RANGE) * COMPLIANCE;
  }

  /** The integral of what would be shown without noise, up to a time, which must not go back. */
  integralTo(time: number): number {
    while (this.#now < time) {
      const next = this.#between[this.#index + 1]?.from ?? Number.POSITIVE_INFINITY;
      const end = Math.min(time, next);
      const seconds = Math.max(0, end - this.#now) / 1000;
      const ohms = this.#between[this.#index]?.ohms ?? null;
      if (ohms === null) this.#charge(seconds);
      else this.#approach(seconds, ohms);
      this.#now = Math.max(this.#now, end);
      if (next <= time) this.#index++;
    }
    return this.#integral;
  }

  #charge(seconds: number): void {
    const { farads, rangeOhms } = this.#meter;
    const most = this.#most();
    // A meter that looks for its range takes a smaller current at each step; open leads are over its last one at once.
    const rising = rangeOhms === null ? 0 : Math.min(seconds, Math.max(0, most - this.#shown) * farads);
    const reached = rangeOhms === null ? most : Math.min(most, this.#shown + seconds / farads);
    this.#integral += (rising * (this.#shown + reached)) / 2 + (seconds - rising) * reached;
    this.#shown = reached;
  }

  #approach(seconds: number, ohms: number): void {
    const constant = ohms * this.#meter.farads;
    const left = constant === 0 ? 0 : Math.exp(-seconds / constant);
    this.#integral += ohms * seconds + (this.#shown - ohms) * constant * (1 - left);
    this.#shown = ohms + (this.#shown - ohms) * left;
  }
}
