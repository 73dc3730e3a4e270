import { counted } from '../quantity/formatCount.ts';
import type { Bias } from './bias.ts';

/** How fit a gauge is in one respect; `open` where it is not a matter of fit or unfit. */
export type Grade = 'good' | 'depends' | 'not-fit' | 'open';

/** One conclusion in plain words. */
export interface Conclusion {
  about: 'tolerance' | 'study-variation' | 'categories' | 'source' | 'interaction' | 'sessions' | 'bias';
  grade: Grade;
  text: string;
}

/** What is less likely than this by chance is called different: the usual 5 %. */
export const SIGNIFICANT_P = 0.05;

/** Said where rounding is as large as what is to be found. */
export const COARSE_NOTE =
  'The last digit of the readings is worth more than the standard deviation of repeats: rounding may hide or swell repeatability';

/** Shares in per cent below which a gauge is good, and above which it is not fit (common practice). */
const GOOD_BELOW = 10;
const UNFIT_ABOVE = 30;

/** Fewest categories a gauge must tell apart (common practice). */
const FEWEST_CATEGORIES = 5;

const GRADE_WORDS: Record<Exclude<Grade, 'open'>, string> = {
  good: 'good (under 10 %)',
  depends: 'may do, depending on the job (10 to 30 %)',
  'not-fit': 'not fit (over 30 %)',
};

/** The grade of a share in per cent, by common practice: under 10 good, 10 to 30 it depends, over 30 not fit. */
export function gradeOfShare(percent: number): Exclude<Grade, 'open'> {
  if (percent < GOOD_BELOW) return 'good';
  return percent <= UNFIT_ABOVE ? 'depends' : 'not-fit';
}

/** @param percent six standard deviations as a share of the window's width */
export function toleranceWords(what: string, percent: number): Conclusion {
  const grade = gradeOfShare(percent);
  const text = `${what} takes ${shown(percent)} % of the window (6 standard deviations): ${GRADE_WORDS[grade]}`;
  return { about: 'tolerance', grade, text };
}

/** @param percent the gauge's standard deviation as a share of the standard deviation of all */
export function variationWords(percent: number): Conclusion {
  const grade = gradeOfShare(percent);
  const text = `The gauge is ${shown(percent)} % of the variation in this study, for telling pieces like these apart: ${GRADE_WORDS[grade]}`;
  return { about: 'study-variation', grade, text };
}

export function categoriesWords(categories: number): Conclusion {
  const enough = categories >= FEWEST_CATEGORIES;
  const apart =
    categories === 1
      ? 'The gauge cannot tell these pieces apart'
      : `The gauge tells ${categories} groups apart among these pieces`;
  const text = `${apart}: ${enough ? 'enough' : 'too few'} (at least ${FEWEST_CATEGORIES})`;
  return { about: 'categories', grade: enough ? 'good' : 'not-fit', text };
}

/** Which part of the gauge's variance is the larger, and where to look. */
export function sourceWords(repeatability: number, reproducibility: number): Conclusion {
  const share = shown((100 * Math.max(repeatability, reproducibility)) / (repeatability + reproducibility));
  const text =
    repeatability >= reproducibility
      ? `Most of the gauge's variance (${share} %) is repeatability: look at contacts, leads, fixture, settling time and meter`
      : `Most of the gauge's variance (${share} %) is between operators: agree on how pieces are held and contacted`;
  return { about: 'source', grade: 'open', text };
}

/** @param p of the F test of the interaction, significant */
export function interactionWords(p: number): Conclusion {
  const text = `Operators differ in another way from piece to piece (${shownP(p)}): see the picture of the interaction, and which pieces are hard to contact`;
  return { about: 'interaction', grade: 'open', text };
}

/** @param p of the F test of sessions against repeatability */
export function sessionsWords(p: number): Conclusion {
  const text =
    p < SIGNIFICANT_P
      ? `Sessions differ by more than repeatability explains (${shownP(p)}): look at temperature, warm-up and zero`
      : `Sessions do not differ by more than repeatability explains (${shownP(p)})`;
  return { about: 'sessions', grade: 'open', text };
}

/** What the bias and its 95 % interval mean. */
export function biasWords({ biasOhms, interval, p }: Pick<Bias, 'biasOhms' | 'interval' | 'p'>): Conclusion {
  const bias = `The bias is ${signed(biasOhms)} Ω`;
  if (interval === null || p === null) {
    const text = `${bias}; the means do not differ at all, so there is no test of it`;
    return { about: 'bias', grade: 'open', text };
  }
  const range = `95 % interval ${signed(interval.lowerOhms)} Ω to ${signed(interval.upperOhms)} Ω`;
  const clear = interval.lowerOhms > 0 || interval.upperOhms < 0;
  const text = clear
    ? `${bias} (${range}, ${shownP(p)}): the readings lie off the reference value`
    : `${bias} (${range}, ${shownP(p)}): it cannot be told from none`;
  return { about: 'bias', grade: clear ? 'depends' : 'open', text };
}

function signed(ohms: number): string {
  return ohms > 0 ? `+${shown(ohms)}` : shown(ohms);
}

/** A figure as a sentence has it: three significant digits, no exponent where people would not write one. */
export function shown(value: number): string {
  if (value === 0) return '0';
  const rounded = Number(value.toPrecision(3));
  return Math.abs(rounded) >= 1e-6 && Math.abs(rounded) < 1e15 ? String(rounded) : rounded.toExponential();
}

/** A probability as a sentence has it. */
export function shownP(p: number): string {
  return p < 0.001 ? 'p < 0.001' : `p = ${p.toFixed(3)}`;
}

/** How large a study is, from counts by their plural nouns: `1 piece, 2 runs`. */
export function sizeWords(size: Record<string, number>): string {
  return Object.entries(size)
    .map(([what, count]) => counted(count, what.slice(0, -1), what).replaceAll('\u00a0', ' '))
    .join(', ');
}
