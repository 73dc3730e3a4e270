import type { ContinuityStep } from '../../core/continuity/continuityRun.ts';
import type { CrossChoice } from '../../core/continuity/crossPairs.ts';
import type { LeadCheckName } from '../../core/continuity/leadCheck.ts';
import type { Stepping } from '../../core/contract/contract.ts';

/** What a run stands at, as something to do. */
export const STEP_WORDS: Record<ContinuityStep, string> = {
  connect: 'Connect the meter',
  cautions: 'Confirm the cautions',
  check: 'Check the leads',
  measure: 'Measure',
  decide: 'Decide',
  certify: 'Certify',
};

export const CROSS_TITLES: Record<CrossChoice, string> = {
  none: 'None',
  neighbours: 'Next to each other',
  nets: 'Net against net',
  all: 'Every two terminals',
};

export const CROSS_HINTS: Record<CrossChoice, string> = {
  none: 'Only what the list says. Other connections stay unseen.',
  neighbours:
    'Each terminal against the next number of the same name. Finds what most often happens in a plug, not all.',
  nets: 'One terminal of each net against one of each other net. Finds every cross-connection, as long as each net is whole.',
  all: 'Also finds what hangs on the far end of a broken wire, and which wires are swapped. Takes the longest.',
};

/** What the hands do before a check is measured. */
export const CHECK_TO_DO: Record<LeadCheckName, string> = {
  'no-voltage': 'Put the probes on the two terminals of the first point. Any voltage there stops the run.',
  'open-leads': 'Hold the probes apart, so that they touch nothing.',
  'shorted-leads': 'Press the probes firmly against each other. What they read is subtracted from now on.',
};

export const CHECK_TITLES: Record<LeadCheckName, string> = {
  'no-voltage': 'No voltage',
  'open-leads': 'Leads open',
  'shorted-leads': 'Leads shorted',
};

/** How the probes stand, in words for somebody two metres away, and what the hands do next. */
export function steppingWords(now: Stepping | null, expected: 'closed' | 'open'): { large: string; toDo: string } {
  switch (now?.phase) {
    case 'contact':
    case 'settling':
      return { large: 'Hold still', toDo: 'Something conducts; it is taken when it is steady.' };
    case 'captured':
      return now.held === null
        ? { large: 'Lift', toDo: 'What is on the probes does not count. Lift both tips.' }
        : { large: 'Taken, lift', toDo: 'The next point comes when the tips are off.' };
    case 'open-said':
      return { large: 'Hold both tips there', toDo: 'It is taken as it reads in a moment.' };
    case 'switch':
      return { large: 'Set the switch', toDo: 'Press Enter when it stands so.' };
    default:
      return expected === 'closed'
        ? {
            large: 'Touch both',
            toDo: 'If nothing conducts: hold both tips there and press Enter, or tap the tips together twice first.',
          }
        : {
            large: 'Tap twice, then touch both',
            toDo: 'Or hold both tips there and press Enter: an open point shows no contact.',
          };
  }
}
