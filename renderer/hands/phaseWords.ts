import type { Live } from '../../core/contract/contract.ts';

/** What is said of the probes: large, and under it what to do. */
export interface PhaseWords {
  large: string;
  toDo: string;
}

/**
 * How the probes stand, in words that are read from two metres, and what the hands do next.
 * @param next the piece that is next: nothing was captured yet of what is on the probes while the news name it
 */
export function phaseWords(
  live: Pick<Live, 'phase' | 'by' | 'steady' | 'of' | 'piece'> | null,
  next: number,
): PhaseWords {
  switch (live?.phase) {
    case undefined:
      return { large: 'Starting', toDo: 'Wait before you touch a piece with the probes.' };
    case 'off':
      return { large: 'Not measuring', toDo: 'Nothing that touches the probes is read now.' };
    case 'waiting':
      return live.by === 'trigger'
        ? { large: 'Waiting for the trigger', toDo: 'Put the piece on the probes, then trigger the meter.' }
        : { large: 'One moment', toDo: 'Wait before you touch a piece with the probes.' };
    case 'armed':
      return { large: 'Leads open', toDo: 'Touch the next piece with the probes.' };
    case 'contact':
      return { large: 'Contact', toDo: 'Hold still.' };
    case 'settling':
      return { large: `Settling ${live.steady} of ${live.of}`, toDo: 'Hold still.' };
    case 'captured':
      return live.piece === next
        ? { large: 'Lift the probes', toDo: 'Nothing counts before they were open once.' }
        : { large: 'Captured: lift the probes', toDo: 'The next piece can be read once they are open.' };
    case 'open-said':
      return { large: 'Open, you say: hold on', toDo: 'Keep the probes on the piece until it sounds.' };
  }
}

/** Whether a piece is on the probes that the last reading is not of. */
export function isUnderWay(live: Pick<Live, 'phase'> | null): boolean {
  return live?.phase === 'contact' || live?.phase === 'settling' || live?.phase === 'open-said';
}
