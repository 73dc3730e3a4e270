import { useMemo, useState } from 'react';
import { fitted, isWhole, type View } from '../../core/chart/view.ts';

/**
 * What is looked at of an axis from `from` to `to`: the whole, which grows with it, until something else is chosen.
 */
export function useView(from: number, to: number): { whole: View; view: View; look: (view: View) => void } {
  const [chosen, setChosen] = useState<View | null>(null);
  const whole = useMemo(() => ({ from, to }), [from, to]);
  const view = useMemo(() => (chosen === null ? whole : fitted(chosen, whole)), [chosen, whole]);
  return { whole, view, look: (next) => setChosen(isWhole(next, whole) ? null : next) };
}
