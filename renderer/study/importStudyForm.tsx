import { useRef, useState } from 'react';
import { TextField } from '../controls/field.tsx';
import { FileField } from '../controls/fileField.tsx';
import { showWrong } from '../controls/showWrong.ts';
import type { Kept } from '../controls/useKept.ts';
import { WorkBar } from '../controls/workBar.tsx';
import { Block } from '../sheet/sheet.tsx';
import { SheetForm } from '../sheet/sheetForm.tsx';
import { useWriting, WritingEnd } from '../sheet/writtenFile.tsx';
import { useAnswer } from '../station/useAnswer.ts';
import { remember } from '../theme/remembered.ts';
import { problemWords } from '../words/problemWords.ts';
import { fieldOfProblem, type ImportDraft, type ImportField, importProblems, importQuestion } from './importDraft.ts';
import { StudyReport } from './studyReport.tsx';

/** A study whose readings come from a file: what it says stands below at once, and can be written and printed. */
export function ImportStudyForm({ kept }: { kept: Kept<ImportDraft> }) {
  const { value: draft, set: onChange } = kept;
  const form = useRef<HTMLFormElement>(null);
  const [tried, setTried] = useState(false);
  const problems = importProblems(draft);
  const question = Object.keys(problems).length > 0 ? null : importQuestion(draft);
  const { found, work, again } = useAnswer('import-study', question);
  const problemFound = found && 'problem' in found ? found.problem : null;
  const study = found && 'answer' in found ? found.answer : null;
  const writing = useWriting(JSON.stringify([question, draft.title, draft.by]));

  const set = (field: Exclude<ImportField, 'file'>, value: string) =>
    onChange((before) => ({ ...before, [field]: value }));
  const problemOf = (field: ImportField): string | undefined => {
    if (problems[field]) return problems[field];
    if (problemFound && fieldOfProblem(problemFound.code) === field) return problemWords(problemFound);
    if (!tried) return undefined;
    if (field === 'file' && draft.file === null) return 'Choose the file with the readings.';
    const isNamed = field === 'title' || field === 'by';
    return isNamed && draft[field].trim() === '' ? 'Must not be empty.' : undefined;
  };
  const text = (field: Exclude<ImportField, 'file'>) => ({
    name: field,
    value: draft[field],
    onChange: (value: string) => set(field, value),
    problem: problemOf(field),
  });

  async function write() {
    setTried(true);
    if (!question || !study || draft.title.trim() === '' || draft.by.trim() === '') {
      requestAnimationFrame(() => showWrong(form.current));
      return;
    }
    remember('inspector', draft.by.trim());
    if (await writing.write('write-study', { ...question, by: draft.by })) kept.done();
  }

  return (
    <>
      <SheetForm ref={form} kept={kept} onSend={write}>
        <fieldset>
          <legend>Readings</legend>
          <FileField
            label="CSV file"
            name="file"
            file={draft.file}
            onFile={(chosen) => onChange((before) => ({ ...before, file: chosen }))}
            problem={problemOf('file')}
          />
          <Columns />
        </fieldset>
        <fieldset>
          <legend>Study</legend>
          <div className="sheet-row">
            <TextField label="What was studied" {...text('title')} required />
            <TextField label="Made by" {...text('by')} required />
          </div>
          <TextField label="Part number" {...text('part')} />
          <div className="sheet-row">
            <TextField label="Nominal value" {...text('nominal')} hint="for shares of tolerance: 4k7" />
            <TextField label="Tolerance or limits" {...text('tolerance')} hint="1 %" />
          </div>
          <div className="sheet-row">
            <TextField label="Reference value, for bias" {...text('reference')} hint="one operator, one piece" />
            <TextField label="Its uncertainty, k = 2" {...text('referenceUncertainty')} hint="as certified: 0.05 ohm" />
          </div>
        </fieldset>
        <WritingEnd
          writing={writing}
          problem={problemFound && !fieldOfProblem(problemFound.code) ? problemFound : null}
          ready={study !== null}
          checks="it works out every figure and conclusion again from the readings."
        >
          <WorkBar
            work={work}
            words="Working out the study"
            stoppedWords="Stopped. The study was not worked out."
            again={{ words: 'Work out the study', press: again }}
          />
        </WritingEnd>
      </SheetForm>
      {study && (
        <>
          <Printed draft={draft} />
          <StudyReport study={study} />
        </>
      )}
    </>
  );
}

/** What the columns of such a file are. */
function Columns() {
  return (
    <div className="small quiet columns">
      <p>
        Several operators: <code className="machine">piece, operator, repeat, ohms</code>. One operator:{' '}
        <code className="machine">piece, session, repeat, ohms</code>, and <code className="machine">run</code> where
        there are several. A comma between columns, values in ohms with a decimal dot:
      </p>
      <pre className="machine">{'piece,operator,repeat,ohms\n1,Ana,1,4701.23\n1,Ben,1,4701.31'}</pre>
    </div>
  );
}

/** What stands at the head of the printed pages, in place of the form. */
function Printed({ draft }: { draft: ImportDraft }) {
  return (
    <div className="printed-only">
      <Block title={draft.title.trim() || 'Study of the measurement'}>
        <dl className="certify-facts">
          <dt>Made by</dt>
          <dd>{draft.by || '-'}</dd>
          <dt>Readings</dt>
          <dd>{draft.file?.name}</dd>
          {draft.part && (
            <>
              <dt>Part</dt>
              <dd>{draft.part}</dd>
            </>
          )}
          {draft.tolerance && (
            <>
              <dt>Window</dt>
              <dd>
                {draft.nominal && `Nominal value ${draft.nominal}, tolerance `}
                {draft.tolerance}
              </dd>
            </>
          )}
          {draft.reference && (
            <>
              <dt>Reference</dt>
              <dd>{draft.reference}</dd>
            </>
          )}
        </dl>
      </Block>
    </div>
  );
}
