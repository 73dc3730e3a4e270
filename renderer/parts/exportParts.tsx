import { useState } from 'react';
import type { Answers } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { saveFile } from '../certify/saveFile.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { useStation } from '../station/station.tsx';
import { useLongWork } from '../station/useLongWork.ts';
import { counted } from '../words/count.ts';

/** Writes all parts into a CSV file, which the import reads again. */
export function ExportParts({ count }: { count: number }) {
  const { line } = useStation();
  const [written, setWritten] = useState<Answers['export-parts'] | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const work = useLongWork();

  async function write() {
    setProblem(null);
    try {
      setWritten(await work.ask('export-parts', {}));
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <section className="parts-export" aria-label="Export">
      <ProblemNotice problem={problem} />
      <WorkBar work={work} words="Writing the parts into a file" stoppedWords="Stopped. No file was written." />
      <div className="actions">
        <Action keyName="e" onPress={write} disabled={work.busy}>
          Export {counted(count, 'part', 'parts')} as CSV
        </Action>
        {written && line.door === 'loopback' && (
          <Action keyName="s" onPress={() => saveFile(written.file, written.text)}>
            Save a copy
          </Action>
        )}
      </div>
      <p role="status" className="small">
        {written && (
          <>
            Written: <span className="machine">{written.file}</span>
          </>
        )}
      </p>
    </section>
  );
}
