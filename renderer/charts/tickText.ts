/** The ink of an axis' figures. The library writes it into the element itself, where no style sheet reaches. */
export const TICK_TEXT = { fill: 'var(--ink-quiet)' } as const;
