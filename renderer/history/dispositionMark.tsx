import type { RunSummary } from '../../core/contract/contract.ts';
import type { Step } from '../../core/inspection/run.ts';
import { DispositionShape } from '../print/dispositionShape.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';

const STANDS_AT: Record<Step, string> = {
  ready: 'Bench not ready yet',
  measure: 'Being measured',
  decide: 'To be decided',
  certify: 'To be certified',
};

/** The disposition of a run by word and shape; of one that has none, where it stands. */
export function DispositionMark({ row: { disposition, step } }: { row: Pick<RunSummary, 'disposition' | 'step'> }) {
  if (disposition === null) return <span className="quiet">{STANDS_AT[step]}</span>;
  return (
    <span className={`history-fate history-fate-${disposition}`}>
      <DispositionShape disposition={disposition} /> {DISPOSITION_WORDS[disposition]}
    </span>
  );
}
