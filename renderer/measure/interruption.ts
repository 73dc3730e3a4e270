import type { MeterLink } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';

/** Why no reading can be taken now, and what to do about it. */
export interface Interruption {
  what: string;
  toDo: string;
}

const GOES_ON = 'The run goes on by itself when the meter is back.';
/** The station looks no further when it has found another meter. */
const GIVEN_UP = 'Then choose the meter again.';

/** What interrupts the run: what the station says of its meter, else what the record says. Null while all is well. */
export function interruptionOf(run: Run, link: MeterLink): Interruption | null {
  if (link.state === 'lost') {
    return { what: link.why.what, toDo: `${link.why.toDo} ${link.why.code === 'meter-lost' ? GOES_ON : GIVEN_UP}` };
  }
  if (!run.interrupted) return null;
  return { what: run.interrupted.why, toDo: `Check cable and power. Readings taken so far are kept. ${GOES_ON}` };
}
