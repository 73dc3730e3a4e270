import type { Series } from '../marking/preferred.ts';
import { ohmsText, percentText } from './causeWords.ts';
import type { LotSeen } from './lotSeen.ts';
import type { LotExplained } from './oddLot.ts';
import { coveredBy, type ReadingCause, readingCauses } from './readingCauses.ts';

/** Causes of one reading that a whole lot may have as well, if its middle has them. */
const OF_THE_VALUE = ['decade slip', 'bands from the other end', 'another preferred value'] as const;
type OfTheValue = (typeof OF_THE_VALUE)[number];

function isOfTheValue(cause: ReadingCause): cause is OfTheValue {
  return OF_THE_VALUE.some((one) => one === cause);
}

/** The middle of a lot so far off, in half windows, is off its value. Our choice: a lot in order keeps well within half. */
const OFF_HALF_WINDOWS = 0.5;
/** And so many standard errors of the middle. */
const OFF_ERRORS = 5;
/** Further off than so many half windows a lot was not made to its value. Our choice. */
const FAR_HALF_WINDOWS = 3;
/** Most of the lot is nearly nothing. */
const SHORT_PART = 0.8;
/** Left in 2-wire by leads and contacts that were not zeroed (common practice). */
const MOST_ADDED_OHMS = 20;
/** Beside a value above it, leads add nothing that any tolerance would show. */
const MOST_LOW_OHMS = 1000;
/** Our choice: a millionth. */
const LEAST_READ = 1e-6;
/** A middle so near to another value's, in its half windows, is of that value. Our choice: a lot is rarely further off. */
const NEAR_HALF_WINDOWS = 0.5;

/** What explains a lot that lies elsewhere as a whole. */
export function wholeLotCauses(lot: LotSeen): LotExplained[] {
  const shorts = shortsThroughout(lot);
  if (shorts) return [shorts, ...ofAnotherValue(lot).filter(({ cause }) => cause !== 'another preferred value')];
  const offset = addedByReference(lot);
  if (offset) return [offset];
  const { median, nominal, halfWindow, spread, noise, along } = lot;
  const off = median - nominal;
  const error = (1.2533 * Math.max(spread, noise)) / Math.sqrt(along.length);
  if (Math.abs(off) < OFF_HALF_WINDOWS * halfWindow || Math.abs(off) < OFF_ERRORS * error) return [];
  const isFar = Math.abs(off) > FAR_HALF_WINDOWS * halfWindow;
  return [
    ...(isFar ? ofAnotherValue(lot) : []),
    ...pathBeside(lot, off),
    ...addedWithoutReference(lot, off, isFar),
    offItsValue(lot, off, isFar),
  ];
}

function shortsThroughout({ sorted, nominal, noise }: LotSeen): LotExplained | null {
  const most = Math.max(0.5, 1e-3 * nominal) + 2 * noise;
  const shorted = sorted.filter((ohms) => Math.abs(ohms) <= most).length;
  if (nominal < 10 * most || shorted < SHORT_PART * sorted.length || shorted < 2) return null;
  return {
    cause: 'shorts throughout',
    weight: 0.96,
    evidence: `${shorted} of ${sorted.length} pieces read next to nothing (at most ${ohmsText(most, 3)}) beside ${ohmsText(nominal)}.`,
    next: 'See whether the tips or leads touch each other, or the fixture is bridged: with nothing between the tips the meter must show its overload.',
  };
}

/** The same resistance on top of references and pieces. */
function addedByReference({ lot, median, nominal, halfWindow, spread, noise, along }: LotSeen): LotExplained | null {
  const { references, method } = lot;
  if (references.length === 0) return null;
  const offsets = references.map(({ measuredOhms, trueOhms }) => measuredOhms - trueOhms);
  const added = offsets.reduce((sum, one) => sum + one, 0) / offsets.length;
  const doubt = Math.max(...references.map(({ uncertaintyOhms }) => uncertaintyOhms));
  const error = Math.hypot(noise / Math.sqrt(offsets.length), doubt / 2);
  const off = median - nominal;
  if (added < 4 * error || added > MOST_ADDED_OHMS || offsets.some((one) => one < added / 2)) return null;
  const own = halfWindow * OFF_HALF_WINDOWS + (4 * Math.max(spread, noise)) / Math.sqrt(along.length);
  if (Math.abs(off - added) > own || added < 0.1 * halfWindow) return null;
  return {
    cause: 'added lead or contact resistance',
    weight: 0.94,
    evidence: `The reference reads ${ohmsText(added, 3)} too much, and the middle of the lot lies ${ohmsText(off, 3)} above ${ohmsText(nominal)}: the same is added to all${method === '2-wire' ? ', in 2-wire, which reads leads and contacts too' : ''}.`,
    next: 'Hold the tips together and do the check of the zero again, then that of the reference, and take the pieces again; 4-wire leaves leads out.',
  };
}

/** Without a reference a constant offset is not told from a lot that is off. */
function addedWithoutReference({ lot, nominal, median }: LotSeen, off: number, isFar: boolean): LotExplained[] {
  const { references, method } = lot;
  if (references.length > 0 || off <= 0 || off > MOST_ADDED_OHMS || nominal > MOST_LOW_OHMS) return [];
  return [
    {
      cause: 'added lead or contact resistance',
      weight: method === '2-wire' ? 0.75 : isFar ? 0.5 : 0.3,
      evidence: `The middle of the lot, ${ohmsText(median)}, lies ${ohmsText(off, 3)} above ${ohmsText(nominal)}${method === '2-wire' ? ', in 2-wire, which reads leads and contacts too' : ', although 4-wire leaves leads out'}. No reference was measured that would tell.`,
      next: 'Measure a reference resistor, or take the zero again with the tips together: what is added shows in both.',
    },
  ];
}

/** The middle of the lot looked at as if it were one piece. */
function ofAnotherValue({ lot, median, halfWindow, nominal }: LotSeen): LotExplained[] {
  const share = halfWindow / nominal;
  const asOne = {
    window: lot.window,
    tolerance: lot.tolerance,
    // Plain decimals, as ohms are written.
    ohms: median.toFixed(9),
    expandedOhms: null,
    method: lot.method,
  };
  return readingCauses(asOne).flatMap(({ cause, evidence, next, value, series = 'E24' }) => {
    if (!isOfTheValue(cause) || value === undefined) return [];
    if (Math.abs(median - value) > NEAR_HALF_WINDOWS * share * value) return [];
    return [{ cause, weight: weightOf(cause, series, share), evidence: `Of the middle of the lot: ${evidence}`, next }];
  });
}

/** The middle of a lot is known so much better than one piece that less of it is chance. */
function weightOf(cause: OfTheValue, series: Series, share: number): number {
  if (cause === 'decade slip') return 0.97;
  if (cause === 'bands from the other end') return 0.96;
  return 0.93 - 0.5 * coveredBy(series, NEAR_HALF_WINDOWS * share);
}

function pathBeside({ median, nominal, spread, share }: LotSeen, off: number): LotExplained[] {
  // What reads next to nothing is a short, and no path.
  if (off >= 0 || median <= LEAST_READ * nominal) return [];
  const beside = (nominal * median) / (nominal - median);
  return [
    {
      cause: 'a path beside each piece',
      weight: 0.7,
      evidence: `A path of ${ohmsText(beside, 3)} beside each piece of ${ohmsText(nominal)} would read ${ohmsText(median)}, the middle of the lot; pieces scatter by ${percentText(spread / median)} where ±${percentText(share)} is allowed.`,
      next: 'If the pieces are still in their circuit, lift one end and take them again; otherwise look for a residue on the fixture: with nothing in it the meter must show its overload.',
    },
  ];
}

function offItsValue({ median, nominal, halfWindow, along }: LotSeen, off: number, isFar: boolean): LotExplained {
  const outside = along.filter(({ ohms }) => Math.abs(ohms - nominal) > halfWindow).length;
  return {
    cause: 'off its value',
    weight: isFar ? 0.55 : 0.75,
    evidence: `The middle of the lot, ${ohmsText(median)}, is ${percentText(Math.abs(off) / nominal)} ${off > 0 ? 'above' : 'below'} ${ohmsText(nominal)}, ${Number((Math.abs(off) / halfWindow).toPrecision(2))} times what one piece may be off; ${outside} of ${along.length} pieces are outside.`,
    next: 'Do the check of the reference. Where it passes the lot itself is off: tell the supplier, with these figures.',
  };
}
