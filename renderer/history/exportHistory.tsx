import { useEffect, useState } from 'react';
import type { Answers } from '../../core/contract/contract.ts';
import { filtersOf } from '../../core/contract/historyWords.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { useLongWork } from '../station/useLongWork.ts';
import { counted } from '../words/count.ts';
import { wordsOf } from './query.ts';

/** Writes all runs that are found into a CSV file. */
export function ExportHistory(props: { query: string; count: number; onBusy: (is: boolean) => void }) {
  const { query, count, onBusy } = props;
  const [written, setWritten] = useState<(Answers['export-history'] & { query: string }) | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const work = useLongWork();
  const { busy } = work;
  useEffect(() => onBusy(busy), [busy, onBusy]);

  async function write() {
    setProblem(null);
    setWritten(null);
    try {
      const answer = await work.ask('export-history', { filters: filtersOf(wordsOf(query).words) });
      setWritten(answer && { ...answer, query });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <section className="history-export" aria-label="Export">
      <ProblemNotice problem={problem} />
      <WorkBar work={work} words="Writing the runs into a file" stoppedWords="Stopped. No file was written." />
      <div className="actions">
        <Action keyName="e" onPress={write} disabled={busy}>
          Export {counted(count, 'run', 'runs')} as CSV
        </Action>
      </div>
      <p role="status" className="small">
        {written?.query === query && (
          <>
            {counted(written.rows, 'run', 'runs')} written: <span className="machine">{written.file}</span>
          </>
        )}
      </p>
    </section>
  );
}
