/**
 * Bar code scanners that act as keyboards: they type faster than a person and end with Enter or Tab, or with both. What is faster
 * than this from one character to the next, for three characters or more and the end, is taken for a scan. Our choice: hands reach
 * some 60 ms for a few characters at a time, scanners need 1 to 20 ms.
 */
export const FASTEST_HANDS_MILLISECONDS = 35;
const LEAST_CHARACTERS = 3;

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
  /** When its last character came, or the end of a scan. */
  at: number;
  /** Its last key ended a scan. */
  isEnded: boolean;
}

export const NOTHING_QUICK: Quick = { text: '', at: Number.NEGATIVE_INFINITY, isEnded: false };

/** What a key was. */
export interface KeyTaken {
  /** What was typed quickly by now. */
  quick: Quick;
  /** The whole scan, where this key ended one. */
  scanned: string | null;
  /** It ended a scan, or followed such an end as only a scanner can: it must do nothing else. */
  isEnd: boolean;
}

/** Scanners press Shift for capitals; it says nothing by itself. */
const SILENT = new Set(['Shift', 'CapsLock']);

/** Takes one more key. */
export function takeKey(quick: Quick, { key, at, byHand }: KeyDown): KeyTaken {
  if (byHand) return { quick: NOTHING_QUICK, scanned: null, isEnd: false };
  if (SILENT.has(key)) return { quick, scanned: null, isEnd: false };
  const isQuick = at - quick.at < FASTEST_HANDS_MILLISECONDS;
  if (key === 'Enter' || key === 'Tab') {
    const isScan = isQuick && [...quick.text].length >= LEAST_CHARACTERS && quick.text.trim() !== '';
    const isEnd = isScan || (isQuick && quick.isEnded);
    return {
      quick: isEnd ? { text: '', at, isEnded: true } : NOTHING_QUICK,
      scanned: isScan ? quick.text.trim() : null,
      isEnd,
    };
  }
  if ([...key].length !== 1) return { quick: NOTHING_QUICK, scanned: null, isEnd: false };
  return { quick: { text: isQuick ? quick.text + key : key, at, isEnded: false }, scanned: null, isEnd: false };
}
