import { problem } from '../../core/problem/problem.ts';

/** A whole number given as an option, within bounds. @throws problem input-invalid */
export function wholeNumber(option: string, text: string, least: number, most: number): number {
  const value = /^\d{1,15}$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= least && value <= most)) {
    throw problem('input-invalid', option, `"${text}" is not a whole number from ${least} to ${most}`);
  }
  return value;
}

/** The number of a run, as it is given on the command line. @throws problem input-invalid */
export function runNumber(text: string): number {
  return wholeNumber('the run', text, 1, Number.MAX_SAFE_INTEGER);
}
