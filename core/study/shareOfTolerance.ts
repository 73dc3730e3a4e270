import { type Window, widthOf } from '../window/window.ts';

/** Standard deviations a share of tolerance counts: 99.73 % of normal readings (common practice). */
const SDS = 6;

/** The rule as files and screens state it. */
export const TOLERANCE_RULE = `Share of tolerance: ${SDS} standard deviations over the width of the window; grades by common practice: under 10 % good, 10 to 30 % may do, over 30 % not fit`;

/** Width of the window in ohms; null where it has not two limits, which a note says. */
export function twoSidedWidth(window: Pick<Window, 'lower' | 'upper'> | null, notes: string[]): number | null {
  if (window !== null && window.lower !== null && window.upper !== null) return Number(widthOf(window));
  notes.push(
    window === null
      ? 'No window was given, so no share of tolerance'
      : 'The window has one limit only and so no width to compare with: no share of tolerance',
  );
  return null;
}

/** Share of the window's width, in per cent; null where there is no width. */
export function shareOfTolerance(sdOhms: number, widthOhms: number | null): number | null {
  return widthOhms === null ? null : (100 * SDS * sdOhms) / widthOhms;
}
