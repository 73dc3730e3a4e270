/**
 * Bar code scanners that act as keyboards: they type faster than a person and end with Enter or Tab. What is faster than this
 * from one character to the next, for four characters or more and the end, is taken for a scan. Our choice: hands reach some
 * 60 ms for a few characters at a time, scanners need 1 to 20 ms.
 */
export const FASTEST_HANDS_MILLISECONDS = 35;
const LEAST_CHARACTERS = 4;

/** A key that went down, as far as it matters here. */
export interface KeyDown {
  /** As the browser names it. */
  key: string;
  /** When, in milliseconds on the page's clock. */
  at: number;
  /** With Ctrl, Alt or Meta, held down, or part of composing a letter: no scanner does that. */
  byHand: boolean;
}

/** What was typed quickly by now. */
export interface Quick {
  text: string;
  /** When its last character came. */
  at: number;
}

export const NOTHING_QUICK: Quick = { text: '', at: Number.NEGATIVE_INFINITY };

/** Scanners press Shift for capitals; it says nothing by itself. */
const SILENT = new Set(['Shift', 'CapsLock']);

/**
 * Takes one more key.
 * @returns what was typed quickly by now, and the whole scan where this key ended one
 */
export function takeKey(quick: Quick, { key, at, byHand }: KeyDown): { quick: Quick; scanned: string | null } {
  if (byHand) return { quick: NOTHING_QUICK, scanned: null };
  if (SILENT.has(key)) return { quick, scanned: null };
  const isQuick = at - quick.at < FASTEST_HANDS_MILLISECONDS;
  if (key === 'Enter' || key === 'Tab') {
    const isScan = isQuick && [...quick.text].length >= LEAST_CHARACTERS && quick.text.trim() !== '';
    return { quick: NOTHING_QUICK, scanned: isScan ? quick.text.trim() : null };
  }
  if ([...key].length !== 1) return { quick: NOTHING_QUICK, scanned: null };
  return { quick: { text: isQuick ? quick.text + key : key, at }, scanned: null };
}
