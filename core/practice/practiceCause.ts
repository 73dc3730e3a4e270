/** What somebody who practises can name as the cause of what was seen, and each of them in the words that are shown. */
export const PRACTICE_CAUSES = [
  'nothing wrong',
  'value of another decade',
  'another value throughout',
  'two values on one reel',
  'sorted lot',
  'spliced or drifting reel',
  'meter drifts',
  'lead breaks when moved',
  'zero no longer holds',
  'part still in circuit',
  'part energised',
  'fingers across the tips',
  'an element open',
  'an element shorted',
  'an element of another value',
  'bad contact',
  'handling of one operator',
] as const;
export type PracticeCause = (typeof PRACTICE_CAUSES)[number];
