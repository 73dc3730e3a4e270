/** The ink of an axis' figures. The library writes it into the element itself, where no style sheet reaches. */
export const TICK_TEXT = { fill: 'var(--ink-quiet)' } as const;

/** The ink of the dots of a line, likewise. */
export const LINE_DOT = { r: 4, fill: 'var(--ink)', stroke: 'var(--ink)' } as const;
