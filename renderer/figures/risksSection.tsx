import type { Row } from '../../core/certificate/format.ts';
import { worthRows } from '../../core/certificate/worthRows.ts';
import type { Run } from '../../core/inspection/run.ts';
import { capital, sentence } from '../../core/quantity/sentence.ts';
import { type FigureRow, FigureRows } from '../figureRows/figureRows.tsx';

/** The risks of the decision rule for a process of the spread that was given, as they stand on the certificate. */
export function RisksSection({ run }: { run: Run }) {
  if (run.decision.processSpreadOhms === null) {
    return (
      <p>
        Not worked out: the risks of a lot need the spread of the process that makes the parts, and none was given when
        this lot was received. For the next lot, open “Decision rule” on “Receive a lot” and write it under “Process
        spread, if known”, like 12&nbsp;ohm or 0.3&nbsp;%: the standard deviation the maker states, or s of earlier lots
        of the part.
      </p>
    );
  }
  const risks = worthRows(run).filter(({ item }) => item?.endsWith('risk'));
  return <FigureRows rows={risks.map(rowOf)} />;
}

function rowOf({ item = '', percent, text = '' }: Row): FigureRow {
  return {
    name: capital(item),
    ...(percent && { value: `${percent}\u00a0%` }),
    words: sentence(text),
    ...(percent && { source: 'JCGM 106:2012, 9.4 and 9.5' }),
  };
}
