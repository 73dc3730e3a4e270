import { percentText } from './causeWords.ts';
import type { LotExplained, LotReading } from './oddLot.ts';

/** So many overloads one after the other are rarely pieces: open ones are single (common practice). */
const LONG_STRETCH = 5;
/** A lot with more of them by themselves has a contact that comes and goes rather than so many open pieces. Our choice. */
const MOST_OPEN_PIECES = 0.1;

/** What overloads among the readings of a lot come from. @param readings in the order they were taken */
export function openCauses(readings: readonly LotReading[]): LotExplained[] {
  const opens = readings.filter(({ ohms }) => ohms === null).length;
  if (opens < 2) return [];
  const { length, from } = longestStretch(readings);
  const isAll = opens === readings.length;
  if (length >= LONG_STRETCH || isAll) {
    const causes: LotExplained[] = [
      {
        cause: 'broken lead',
        weight: 0.96,
        evidence: isAll
          ? `All ${opens} readings are overload.`
          : `${length} readings one after the other are overload, from piece ${from} on; ${readings.length - opens} others have a value.`,
        next: 'Hold the tips together and move the leads. If the overload stays or comes and goes, change the lead, show the bench ready again, and take these pieces again.',
      },
    ];
    if (isAll) {
      causes.push({
        cause: 'wrong range or function',
        weight: 0.9,
        evidence: 'A fixed range below the value of the pieces shows nothing but overload as well.',
        next: 'Look at the range the meter shows, and at the value on the reel; take one piece on automatic range.',
      });
    }
    return causes;
  }
  // The same piece was read with a value before or afterwards: then it is not the piece.
  const withValue = new Set(readings.flatMap(({ ohms, piece }) => (ohms === null ? [] : [piece])));
  const notThePiece = readings.filter(({ ohms, piece }) => ohms === null && withValue.has(piece)).length;
  const share = opens / readings.length;
  if (share > MOST_OPEN_PIECES || notThePiece > opens / 2) {
    return [
      {
        cause: 'unstable contact',
        weight: 0.93,
        evidence: `${opens} of ${readings.length} readings (${percentText(share)}) are overload, here and there${notThePiece > 0 ? `; ${notThePiece} of them of pieces that have a value in another reading` : ''}.`,
        next: 'Clean tips and fixture, look at the plugs of the leads, and take the pieces with overload again.',
      },
    ];
  }
  return [
    {
      cause: 'open pieces',
      weight: 0.6,
      evidence: `${opens} of ${readings.length} readings (${percentText(share)}) are overload, each by itself.`,
      next: 'Take each of them again with a clean contact: a piece that is open stays so.',
    },
  ];
}

function longestStretch(readings: readonly LotReading[]): { length: number; from: number } {
  let longest = { length: 0, from: 0 };
  let length = 0;
  for (const [index, { ohms }] of readings.entries()) {
    length = ohms === null ? length + 1 : 0;
    if (length > longest.length) longest = { length, from: readings[index + 1 - length]?.piece ?? 0 };
  }
  return longest;
}
