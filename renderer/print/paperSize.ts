import { remember, remembered } from '../theme/remembered.ts';

/** Sizes of paper by the names that CSS has for them (CSS Paged Media 3, 7.1): A4 of ISO 216, letter of ANSI. */
export const PAPER_SIZES = ['A4', 'letter'] as const;
export type PaperSize = (typeof PAPER_SIZES)[number];

/** Each size as it is said. */
export const PAPER_WORDS: Record<PaperSize, string> = { A4: 'A4', letter: 'Letter' };

/** The size chosen on this computer; A4 when none was. */
export function chosenPaperSize(): PaperSize {
  const text = remembered('paper-size');
  return PAPER_SIZES.find((size) => size === text) ?? 'A4';
}

/** Remembers a size on this computer. */
export function rememberPaperSize(size: PaperSize): void {
  remember('paper-size', size);
}
