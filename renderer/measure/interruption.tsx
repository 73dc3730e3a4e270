import type { MeterLink } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';
import { counted } from '../words/count.ts';

/** Why no reading can be taken now. */
export interface InterruptionText {
  why: string;
  toDo: string;
}

/** What interrupts the run: what the record says, or what the station says of its meter. Null while all is well. */
export function interruptionOf(run: Run, link: MeterLink): InterruptionText | null {
  if (link.state === 'lost') return { why: link.why.what, toDo: link.why.toDo };
  if (run.interrupted) return { why: run.interrupted.why, toDo: 'Check cable and power of the meter.' };
  return null;
}

/** The notice of an interruption. It stays until the run goes on, which it does by itself. */
export function Interruption({ interruption, kept }: { interruption: InterruptionText | null; kept: number }) {
  return (
    <div role="alert" className="interruption-place">
      {interruption && (
        <div className="interruption">
          <h2>The run is interrupted</h2>
          <p>
            {withStop(interruption.why)} {interruption.toDo}
          </p>
          <p>
            {kept === 1 ? 'The reading taken is kept' : `All ${counted(kept, 'reading', 'readings')} are kept`}. The run
            goes on by itself when the meter is back.
          </p>
        </div>
      )}
    </div>
  );
}

function withStop(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
