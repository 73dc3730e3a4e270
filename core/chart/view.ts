/** A stretch of an axis: all of it, or what is looked at. */
export interface View {
  from: number;
  to: number;
}

/** Nearer than this many units of the axis (readings, positions) there is nothing more to see. Our choice. */
const NARROWEST = 10;

/** The stretch within the whole, as wide as asked for where it fits, and never narrower than can be looked at. */
export function fitted({ from, to }: View, whole: View): View {
  const all = whole.to - whole.from;
  const width = Math.min(all, Math.max(to - from, Math.min(all, NARROWEST)));
  const middle = (from + to) / 2;
  const start = Math.min(Math.max(middle - width / 2, whole.from), whole.to - width);
  return { from: start, to: start + width };
}

/** The view with its width times a factor, about its middle: below 1 nearer, above 1 further. */
export function zoomed({ from, to }: View, factor: number, whole: View): View {
  const middle = (from + to) / 2;
  const half = (factor * (to - from)) / 2;
  return fitted({ from: middle - half, to: middle + half }, whole);
}

/** The view moved along by a share of its width; positive to the right. It stops at the ends. */
export function moved({ from, to }: View, share: number, whole: View): View {
  const by = share * (to - from);
  return fitted({ from: from + by, to: to + by }, whole);
}

/** The view about another middle. */
export function centred({ from, to }: View, middle: number, whole: View): View {
  const half = (to - from) / 2;
  return fitted({ from: middle - half, to: middle + half }, whole);
}

/** Whether a view shows everything. */
export function isWhole(view: View, whole: View): boolean {
  return view.from <= whole.from && view.to >= whole.to;
}
