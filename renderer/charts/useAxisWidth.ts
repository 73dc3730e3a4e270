import { useSyncExternalStore } from 'react';

function onResize(heard: () => void): () => void {
  window.addEventListener('resize', heard);
  return () => window.removeEventListener('resize', heard);
}

function textPixels(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
}

/**
 * Room for the longest figure beside an axis, in pixels. Text grows with the screen, so it is worked out anew when that changes: a
 * figure that lost its first digit would be another figure. A digit is 0.6 of the text's height.
 */
export function useAxisWidth(): (texts: readonly string[]) => number {
  const small = 0.875 * useSyncExternalStore(onResize, textPixels);
  return (texts) => Math.ceil((Math.max(6, ...texts.map((text) => text.length)) * 0.6 + 1) * small) + 8;
}
