import { preloadLine } from './preloadLine.ts';
import { socketLine } from './socketLine.ts';
import type { StationLine } from './stationLine.ts';

/** The desktop's bridge where there is one, else the loopback door this page came through. */
export function stationOfThisWindow(): StationLine {
  if (window.reelohm) return preloadLine(window.reelohm);
  const scheme = location.protocol === 'https:' ? 'wss' : 'ws';
  return socketLine(`${scheme}://${location.host}/station`);
}
