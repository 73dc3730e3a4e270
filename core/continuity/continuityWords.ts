import { formatOhms } from '../quantity/formatOhms.ts';
import type { ContinuityOutlook, ContinuityTally } from './continuityRun.ts';
import type { CrossChoice } from './crossPairs.ts';
import type { ContinuityDisposition, ReadBy } from './event.ts';
import type { FoundState, PointJudged, PointReason, PointVerdict } from './judgePoint.ts';

export const VERDICT_WORDS: Record<PointVerdict, string> = {
  'as-expected': 'as expected',
  'not-as-expected': 'not as expected',
  'cannot-tell': 'cannot tell',
};

export const FOUND_WORDS: Record<FoundState, string> = {
  closed: 'closed',
  between: 'neither open nor closed',
  open: 'open',
  unsure: 'not told',
};

export const REASON_WORDS: Record<PointReason, string> = {
  'no-connection': 'no connection',
  'high-resistance': 'resistance too high',
  'cross-connection': 'cross-connection',
  'neither-open-nor-closed': 'neither open nor closed',
  'near-the-limit': 'too near to the limit to tell',
  'range-too-small': 'the range does not reach to the limit',
  'below-zero': 'below zero: look for a voltage',
};

export const CROSS_WORDS: Record<CrossChoice, string> = {
  none: 'none',
  neighbours: 'each terminal against the next of the same name',
  nets: 'one terminal of each net against one of each other net',
  all: 'every two terminals of different nets',
};

export const READ_BY_WORDS: Record<ReadBy, string> = {
  asked: 'asked for',
  contact: 'contact held',
  sign: 'said by two taps or a key, while the leads were open',
};

export const DISPOSITION_WORDS: Record<ContinuityDisposition, string> = {
  accepted: 'accepted',
  'not-accepted': 'not accepted',
  'on-hold': 'on hold',
};

export const OUTLOOK_WORDS: Record<ContinuityOutlook, string> = {
  'under-way': 'points are left',
  'as-expected': 'every point is as expected',
  'not-as-expected': 'something is not as expected',
  unsure: 'something cannot be told, or was skipped',
};

/** What a reading says, like `0.21 Ω` or `overload`. */
export function readWords({ ohms }: Pick<PointJudged, 'ohms'>): string {
  return ohms === null ? 'overload' : formatOhms(ohms);
}

/** A verdict with its reason, like `not as expected: no connection`. */
export function judgedWords({ verdict, reason }: Pick<PointJudged, 'verdict' | 'reason'>): string {
  return reason === null ? VERDICT_WORDS[verdict] : `${VERDICT_WORDS[verdict]}: ${REASON_WORDS[reason]}`;
}

/** How many points stand how, in a line. */
export function tallyWords(tally: ContinuityTally): string {
  const parts = [
    `${tally['as-expected']} as expected`,
    `${tally['not-as-expected']} not as expected`,
    `${tally['cannot-tell']} cannot tell`,
    ...(tally.skipped > 0 ? [`${tally.skipped} skipped`] : []),
    ...(tally.left > 0 ? [`${tally.left} left`] : []),
  ];
  return `${tally.points} points: ${parts.join(', ')}`;
}
