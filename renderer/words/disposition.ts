import type { Disposition } from '../../core/inspection/event.ts';

/** The disposition of a lot, in a word or two. */
export const DISPOSITION_WORDS: Record<Disposition, string> = {
  accepted: 'Accepted',
  'not-accepted': 'Not accepted',
  'on-hold': 'On hold',
  studied: 'Studied',
};
