import type { Run } from '../../core/inspection/run.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { numberedPieces } from '../words/pieces.ts';
import { suspectWhy } from '../words/suspect.ts';

/** Which pieces are to be measured again because their readings are suspect, and why. */
export function MeasureAgain({ run }: { run: Run }) {
  if (run.tally.suspect === 0 || run.again.length === 0) return null;
  return (
    <p className="measure-again">
      <VerdictMark verdict="suspect" />
      <span>
        <strong>Measure again:</strong>{' '}
        {run.plan.choice.kind === 'study' ? numberedPieces(run.again, ['turn', 'turns']) : numberedPieces(run.again)}.{' '}
        {suspectWhy(run)}
      </span>
    </p>
  );
}
