import { remember, remembered } from './remembered.ts';

export const APPEARANCES = ['system', 'light', 'dark'] as const;
/** Light or dark, or as the computer says. */
export type Appearance = (typeof APPEARANCES)[number];

/** The appearance chosen on this computer; `system` when none was. */
export function chosenAppearance(): Appearance {
  const text = remembered('appearance');
  return APPEARANCES.find((appearance) => appearance === text) ?? 'system';
}

/** Shows the page in this appearance and remembers it. */
export function applyAppearance(appearance: Appearance): void {
  document.documentElement.dataset.appearance = appearance;
  remember('appearance', appearance);
}
