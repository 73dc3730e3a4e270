import { useMemo, useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { RadioField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { LookPage } from '../lookPage.tsx';
import { useLongWork } from '../station/useLongWork.ts';
import { canNumberPages, usePageRules } from './pageRules.ts';
import { PaperPages } from './paperPages.tsx';
import { chosenPaperSize, PAPER_SIZES, PAPER_WORDS, rememberPaperSize } from './paperSize.ts';
import { pageHead, pageMarks } from './paperWords.ts';
import { toBePrinted } from './toBePrinted.ts';
import { usePaper } from './usePaper.ts';
import './print.css';
import './printScreen.css';

/** The certificate of a run laid out for paper, and the way to print it; where its file is not there yet that is written first. */
export default function PrintScreen({ number, run, back }: { number: number; run: Run; back: () => void }) {
  const { file, why } = toBePrinted(run);
  const { paper, problem } = usePaper(number, file?.sha256 ?? null);
  const [size, setSize] = useState(chosenPaperSize);
  const [unwritten, setUnwritten] = useState<Problem | null>(null);
  const writing = useLongWork(`certificate of run ${number}`);
  const edges = useMemo(
    () => (paper && file ? { size, head: pageHead(paper), marks: pageMarks(paper), sha256: file.sha256 } : null),
    [paper, file, size],
  );
  usePageRules(edges);

  async function write() {
    if (writing.busy) return;
    setUnwritten(null);
    await writing.ask('write-certificate', { run: number }).catch((thrown) => setUnwritten(asProblem(thrown)));
  }

  const main =
    file === null ? (
      run.decided && (
        <Action primary keyName="Enter" onPress={write} disabled={writing.busy}>
          Write the certificate
        </Action>
      )
    ) : (
      <Action primary keyName="p" onPress={() => window.print()} disabled={paper === null}>
        Print
      </Action>
    );
  return (
    <LookPage
      number={number}
      run={run}
      title={`Certificate of run ${number}`}
      back={back}
      side={
        <RadioField
          legend="Paper"
          name="paper-size"
          value={size}
          choices={PAPER_SIZES.map((one) => [one, PAPER_WORDS[one]] as const)}
          onChange={(chosen) => {
            setSize(chosen);
            rememberPaperSize(chosen);
          }}
        />
      }
      actions={main}
    >
      <div className="print-says unprinted">
        {why !== null && <p>{why}</p>}
        {!canNumberPages() && (
          <p>
            <strong>This browser cannot write into the margins of pages:</strong> page numbers, digest and marks would
            be missing there. Print from the desktop window, or from a browser made on Chromium 131 or later.
          </p>
        )}
        <ProblemNotice problem={unwritten ?? problem} />
        <WorkBar
          work={writing}
          words="Writing the certificate"
          stoppedWords="Stopped. No certificate was written."
          escapeLeaves
        />
        {file !== null && paper === null && problem === null && <p role="status">Reading the certificate’s file …</p>}
      </div>
      {paper && file && <PaperPages paper={paper} file={file} />}
    </LookPage>
  );
}
