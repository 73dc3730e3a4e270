import { remember, remembered } from './remembered.ts';

export const APPEARANCES = ['system', 'light', 'dark'] as const;
/** Light or dark, or as the computer says. */
export type Appearance = (typeof APPEARANCES)[number];

export const CONTRASTS = ['system', 'usual', 'more'] as const;
/** Contrast of the screen, in light as in dark: the usual, more, or as the computer says. */
export type Contrast = (typeof CONTRASTS)[number];

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

/** The contrast chosen on this computer; `system` when none was. */
export function chosenContrast(): Contrast {
  const text = remembered('contrast');
  return CONTRASTS.find((contrast) => contrast === text) ?? 'system';
}

/** Shows the page with this contrast and remembers it. */
export function applyContrast(contrast: Contrast): void {
  remember('contrast', contrast);
  showContrast();
}

/** Shows the page with the contrast chosen, and follows the computer where that was chosen. */
export function followContrast(): void {
  wantsMore().addEventListener('change', showContrast);
  showContrast();
}

const wantsMore = () => window.matchMedia('(prefers-contrast: more)');

function showContrast(): void {
  const chosen = chosenContrast();
  const more = chosen === 'more' || (chosen === 'system' && wantsMore().matches);
  document.documentElement.dataset.contrast = more ? 'more' : 'usual';
}
