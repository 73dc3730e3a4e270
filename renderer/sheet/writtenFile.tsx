import { type ReactNode, useState } from 'react';
import type { Answers, Question } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { FileFacts } from '../certify/fileFacts.tsx';
import { saveFile } from '../certify/saveFile.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { PrintAction } from '../print/printAction.tsx';
import { useStation } from '../station/station.tsx';
import { type LongWork, useLongWork } from '../station/useLongWork.ts';

type Request = 'write-study' | 'write-stress';
type Written = Answers[Request];

/** Writing a result into a file: what was written of which form, and whether it is being written now. */
export interface Writing {
  /** The file of the form as it stands; null where none was written of it. */
  file: Written | null;
  work: LongWork;
  problem: Problem | null;
  /** Whether it is written. */
  write<N extends Request>(name: N, question: Question<N>): Promise<boolean>;
}

/** @param madeOf what the file is made of, as a text: when it changes, the file is of something else */
export function useWriting(madeOf: string): Writing {
  const [written, setWritten] = useState<{ madeOf: string; file: Written } | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const work = useLongWork();
  async function write<N extends Request>(name: N, question: Question<N>): Promise<boolean> {
    if (work.busy) return false;
    setProblem(null);
    try {
      const file = await work.ask(name, question);
      if (file) setWritten({ madeOf, file });
      return file !== null;
    } catch (thrown) {
      setProblem(asProblem(thrown));
      return false;
    }
  }
  return { file: written?.madeOf === madeOf ? written.file : null, work, problem, write };
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
  /** How far the working out of the result is. */
  children: ReactNode;
}) {
  const { file, work, problem } = props.writing;
  const { line } = useStation();
  return (
    <div className="sheet-end">
      {props.children}
      <ProblemNotice problem={problem ?? props.problem} />
      <WorkBar work={work} words="Writing the result" stoppedWords="Stopped. No file was written." />
      <div className="actions">
        <Action primary={file === null} submits keyName="Enter" disabled={work.busy}>
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
