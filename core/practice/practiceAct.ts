/** What somebody who practises can do at the simulated bench beside putting the probes on pieces. */
export const PRACTICE_ACTS = [
  'lift one end',
  'take the hands off the tips',
  'switch off and discharge',
  'change the leads',
  'let the meter warm up',
] as const;
export type PracticeAct = (typeof PRACTICE_ACTS)[number];

/** What is shown of an act once it was done. */
export const ACT_DONE: Record<PracticeAct, string> = {
  'lift one end': 'One end of each piece is lifted: nothing else is beside it now.',
  'take the hands off the tips': 'Pieces are held in clips from now on.',
  'switch off and discharge': 'The part is switched off, isolated and discharged.',
  'change the leads': 'New leads are in place of the old ones.',
  'let the meter warm up': 'The meter has been on for an hour.',
};
