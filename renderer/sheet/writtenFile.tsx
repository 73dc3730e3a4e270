import { useState } from 'react';
import type { Answers } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { FileFacts } from '../certify/fileFacts.tsx';
import { saveFile } from '../certify/saveFile.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { PrintAction } from '../print/printAction.tsx';
import { useStation } from '../station/station.tsx';

type Written = Answers['write-study'] | Answers['write-stress'];

/** Writing a result into a file: what was written of which form, and whether it is being written now. */
export interface Writing {
  /** The file of the form as it stands; null where none was written of it. */
  file: Written | null;
  busy: boolean;
  problem: Problem | null;
  write(ask: () => Promise<Written>): Promise<void>;
}

/** @param madeOf what the file is made of, as a text: when it changes, the file is of something else */
export function useWriting(madeOf: string): Writing {
  const [written, setWritten] = useState<{ madeOf: string; file: Written } | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  async function write(ask: () => Promise<Written>) {
    if (busy) return;
    setProblem(null);
    setBusy(true);
    try {
      setWritten({ madeOf, file: await ask() });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }
  return { file: written?.madeOf === madeOf ? written.file : null, busy, problem, write };
}

/** The end of a form whose result is written: what went wrong, the buttons, and the file. */
export function WritingEnd(props: {
  writing: Writing;
  /** What else is wrong. */
  problem: Problem | null;
  /** There is a result to be written and printed. */
  ready: boolean;
  /** What checking the file does. */
  checks: string;
}) {
  const { file, busy, problem } = props.writing;
  const { line } = useStation();
  return (
    <div className="sheet-end">
      <ProblemNotice problem={problem ?? props.problem} />
      <div className="actions">
        <Action primary={file === null} submits keyName="Enter" disabled={busy}>
          Write the result
        </Action>
        {file && line.door === 'loopback' && (
          <Action keyName="s" onPress={() => saveFile(file.file, file.text)}>
            Save a copy
          </Action>
        )}
        {props.ready && <PrintAction />}
      </div>
      <div aria-live="polite">
        {file && (
          <section className="certify-file" aria-label="The file of the result">
            <h2>The file of the result</h2>
            <FileFacts file={file.file} sha256={file.sha256} checks={props.checks} />
          </section>
        )}
      </div>
    </div>
  );
}
