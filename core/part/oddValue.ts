import { preferredWarning } from '../marking/preferredWarning.ts';
import type { Tolerance, Window } from '../window/window.ts';

/**
 * What is odd about a nominal value, in a sentence; null where nothing is. It warns and never refuses. Only a tolerance of as many
 * per cent up as down names a series; with any other the value may be of any.
 */
export function oddValue(of: { window: Window | null; tolerance: Tolerance | null }): string | null {
  const { window, tolerance } = of;
  if (!window?.nominal || !tolerance) return null;
  const isSymmetric = tolerance.kind === 'percent' && tolerance.plus === tolerance.minus && Number(tolerance.plus) > 0;
  return preferredWarning(window.nominal, isSymmetric ? tolerance.plus : null);
}
