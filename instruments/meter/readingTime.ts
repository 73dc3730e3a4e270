import Big from 'big.js';

/** What decides how long one reading takes. */
export interface ReadingWork {
  /** Integration time in cycles of the mains. */
  integrationCycles: string | number;
  /** `auto`: the meter looks for its range first. */
  range: 'auto' | 'fixed';
  /** Full scale of a fixed range in ohms; null where there is none, or the quantity is another. */
  rangeOhms: string | null;
  /** Characters of the question and its answer together, each with its end of line. */
  characters: number;
  /** How long the line takes for one of them; 0 where the line is not what limits. */
  characterMilliseconds: number;
}

/** 50 Hz; where the mains have 60 Hz a cycle is shorter, so this is the longer one. */
const CYCLE_MILLISECONDS = 20;
/** One measurement of the input and one of the meter's own zero (auto-zero, common practice). */
const WITH_AUTO_ZERO = 2;
/** 100 Ω to 1 GΩ in decades: the most an auto-ranging meter tries one after the other (common practice). */
const RANGES_TRIED = 8;
/** A meter commonly reads up to 1.2 times the range it names. */
const OVER_RANGE = 1.2;
/** Largest resistance that is waited for where the range is not known. */
const LARGEST_OHMS = 1e8;
/** What hangs on the input: a metre or so of shielded lead and the meter itself stay below it (common practice). */
const INPUT_FARADS = 1e-9;
/** e to the power of -14 is 8.3e-7, so after 14 time constants less than a millionth is left. */
const TIME_CONSTANTS = 14;
/** For what a meter's manual does not say: triggering, switching relays, working out the number. */
const MARGIN = 2;
/** For the meter's first beginning, an adapter that gathers bytes, and a computer that is busy with something else. */
const ALLOWANCE_MILLISECONDS = 2000;

/**
 * How long one reading may take before the meter counts as silent, in milliseconds: integration with auto-zero in each
 * range tried, settling of the resistance with what hangs on the input to a millionth, both twice over; then the time
 * of the line for question and answer, and 2 s for everything that is not the measurement's.
 */
export function readingMilliseconds(work: ReadingWork): number {
  const isAuto = work.range === 'auto';
  const integration =
    Number(work.integrationCycles) * CYCLE_MILLISECONDS * WITH_AUTO_ZERO * (isAuto ? RANGES_TRIED : 1);
  const ohms = isAuto || work.rangeOhms === null ? LARGEST_OHMS : new Big(work.rangeOhms).times(OVER_RANGE).toNumber();
  const settling = TIME_CONSTANTS * ohms * INPUT_FARADS * 1000;
  const line = work.characters * work.characterMilliseconds;
  return Math.ceil((integration + settling) * MARGIN + line + ALLOWANCE_MILLISECONDS);
}
