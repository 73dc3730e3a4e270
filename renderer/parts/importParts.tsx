import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { PART_COLUMNS } from '../../core/part/partColumns.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { Action } from '../controls/action.tsx';
import { TickField } from '../controls/field.tsx';
import { type ChosenFile, FileField } from '../controls/fileField.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { Block, Sheet } from '../sheet/sheet.tsx';
import { useLongWork } from '../station/useLongWork.ts';
import { counted, formatCount } from '../words/count.ts';
import { problemWords } from '../words/problemWords.ts';
import { ChangesList } from './changesTable.tsx';
import { badRows, importWords, MOST_PARTS_BYTES, type Preview, previewWords, rowsToImport } from './importDraft.ts';
import { valueWords } from './partWords.ts';

type Shown = { preview: Preview } | { problem: Problem } | null;

/** Parts from a CSV file: what would come in is shown first, and nothing is kept before it is confirmed. */
export function ImportParts(props: { onDone: (words: string) => void; onLeave: () => void }) {
  const reading = useLongWork();
  const keeping = useLongWork();
  const { ask: read, drop } = reading;
  const [file, setFile] = useState<ChosenFile | null>(null);
  const [asked, setAsked] = useState(0);
  const [shown, setShown] = useState<Shown>(null);
  const [replaces, setReplaces] = useState(true);
  const [problem, setProblem] = useState<Problem | null>(null);
  const busy = reading.busy || keeping.busy;
  const preview = shown && 'preview' in shown ? shown.preview : null;
  const says = useRef<HTMLParagraphElement>(null);
  // From there on Enter is the key of this screen, and no longer that of the file field.
  useLayoutEffect(() => {
    if (preview) says.current?.focus();
  }, [preview]);
  const rows = preview ? rowsToImport(preview, replaces) : [];

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked for anew where the list was changed meanwhile
  useEffect(() => {
    if (!file) return;
    let current = true;
    setShown(null);
    read('preview-parts', { csv: file.text }).then(
      (found) => current && setShown(found && { preview: found }),
      (thrown) => current && setShown({ problem: asProblem(thrown) }),
    );
    return () => {
      current = false;
      drop();
    };
  }, [file, read, drop, asked]);

  async function keep() {
    if (!file || !preview || rows.length === 0 || busy) return;
    setProblem(null);
    try {
      const done = await keeping.ask('import-parts', { csv: file.text, version: preview.version, rows });
      if (done) props.onDone(`${counted(done.imported, 'part was', 'parts were')} imported from ${file.name}.`);
    } catch (thrown) {
      const found = asProblem(thrown);
      setProblem(found);
      if (found.code === 'parts-changed-meanwhile') setAsked((before) => before + 1);
    }
  }

  return (
    <Sheet title="Import parts from CSV">
      <div className="parts-import">
        <FileField
          label="CSV file of parts"
          name="file"
          file={file}
          mostBytes={MOST_PARTS_BYTES}
          onFile={(chosen) => {
            setProblem(null);
            setFile(chosen);
          }}
          problem={shown && 'problem' in shown ? problemWords(shown.problem) : undefined}
        />
        <ColumnsHelp short={preview !== null} />
        <WorkBar
          work={reading}
          words={`Reading ${file?.name}`}
          stoppedWords="Stopped. Choose the file again to read it."
        />
        {preview && (
          <p ref={says} tabIndex={-1} className="parts-says">
            {previewWords(preview)}
          </p>
        )}
        {preview && <Shortly preview={preview} replaces={replaces} onReplaces={setReplaces} />}
        <ProblemNotice problem={problem} />
        <WorkBar
          work={keeping}
          words="Importing the parts"
          stoppedWords="Stopped. Nothing was imported; the list is as it was."
        />
        <div className="actions">
          <Action primary={rows.length > 0} keyName="Enter" onPress={keep} disabled={rows.length === 0 || busy}>
            {preview ? importWords(preview, replaces) : 'Import'}
          </Action>
          <Action {...(!busy && { keyName: 'Escape' })} onPress={props.onLeave} disabled={keeping.busy}>
            {preview ? 'Import nothing' : 'Back'}
          </Action>
        </div>
        {preview && <Wrong preview={preview} />}
        {preview && <Odd preview={preview} />}
        {preview && <Replaced preview={preview} />}
        {preview && <Added preview={preview} />}
      </div>
    </Sheet>
  );
}

/** What is to be known before it is confirmed. */
function Shortly(props: { preview: Preview; replaces: boolean; onReplaces: (replaces: boolean) => void }) {
  const { bad, odd, unread, replaced } = props.preview;
  return (
    <>
      {bad.length > 0 && (
        <p>The wrong rows are left out; they stand below with the reason. The others can be imported without them.</p>
      )}
      {odd.length > 0 && (
        <p>
          {counted(odd.length, 'value is no preferred number', 'values are no preferred numbers')}: look at them below
          before they come in.
        </p>
      )}
      {unread.length > 0 && (
        <p>
          Columns that mean nothing here and are left alone: <strong>{unread.join(', ')}</strong>. If one of them should
          count, give it the name it has in “All columns”.
        </p>
      )}
      {replaced.length > 0 && (
        <TickField checked={props.replaces} onChange={props.onReplaces}>
          {replaced.length === 1
            ? 'Replace the part that is in the list already'
            : `Replace the ${formatCount(replaced.length)} parts that are in the list already`}
        </TickField>
      )}
    </>
  );
}

/** Rows drawn at a time. */
const ROWS = 100;

function Wrong({ preview }: { preview: Preview }) {
  const [most, setMost] = useState(ROWS);
  const { bad } = preview;
  if (bad.length === 0) return null;
  return (
    <Block title={`Wrong rows: ${formatCount(badRows(preview))}`}>
      <table>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Column</th>
            <th scope="col">What stands there</th>
            <th scope="col">Why it is wrong</th>
          </tr>
        </thead>
        <tbody>
          {bad.slice(0, most).map(({ row, column, value, why }) => (
            <tr key={`${row} ${column}`}>
              <th scope="row">{formatCount(row)}</th>
              <td>{column ? <code className="machine">{column}</code> : 'the whole row'}</td>
              <td className="parts-value">{value || <span className="quiet">nothing</span>}</td>
              <td>{sentence(why)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <More shown={most} of={bad.length} onMore={() => setMost(most + ROWS)} />
    </Block>
  );
}

/** Values that are no preferred numbers: they come in, but somebody may have mistyped one. */
function Odd({ preview }: { preview: Preview }) {
  const [most, setMost] = useState(ROWS);
  const { odd } = preview;
  if (odd.length === 0) return null;
  return (
    <Block title={`Values to look at again: ${formatCount(odd.length)}`}>
      <p className="quiet small">These parts are imported as they stand; their values are no preferred numbers.</p>
      <table>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Part number</th>
            <th scope="col">What is odd</th>
          </tr>
        </thead>
        <tbody>
          {odd.slice(0, most).map(({ row, number, why }) => (
            <tr key={row}>
              <td>{formatCount(row)}</td>
              <th scope="row" className="parts-value">
                {number}
              </th>
              <td>{why}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <More shown={most} of={odd.length} onMore={() => setMost(most + ROWS)} />
    </Block>
  );
}

function Added({ preview }: { preview: Preview }) {
  const [most, setMost] = useState(ROWS);
  const { added } = preview;
  if (added.length === 0) return null;
  return (
    <Block title={`New parts: ${formatCount(added.length)}`}>
      <table>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Part number</th>
            <th scope="col">Value</th>
          </tr>
        </thead>
        <tbody>
          {added.slice(0, most).map((part) => (
            <tr key={part.row}>
              <td>{formatCount(part.row)}</td>
              <th scope="row" className="parts-value">
                {part.number}
              </th>
              <td className="figures">{valueWords(part)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <More shown={most} of={added.length} onMore={() => setMost(most + ROWS)} />
    </Block>
  );
}

function Replaced({ preview }: { preview: Preview }) {
  const [most, setMost] = useState(ROWS);
  const { replaced } = preview;
  if (replaced.length === 0) return null;
  return (
    <Block title={`Parts that would be replaced: ${formatCount(replaced.length)}`}>
      <table>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Part number</th>
            <th scope="col">What changes</th>
          </tr>
        </thead>
        <tbody>
          {replaced.slice(0, most).map(({ row, number, changes }) => (
            <tr key={row}>
              <td>{formatCount(row)}</td>
              <th scope="row" className="parts-value">
                replaces {number}
              </th>
              <td>
                <ChangesList changes={changes} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <More shown={most} of={replaced.length} onMore={() => setMost(most + ROWS)} />
    </Block>
  );
}

function More({ shown, of, onMore }: { shown: number; of: number; onMore: () => void }) {
  if (of <= shown) return null;
  return (
    <div className="actions">
      <Action onPress={onMore}>Show {formatCount(Math.min(ROWS, of - shown))} more</Action>
      <span className="quiet small">
        {formatCount(shown)} of {formatCount(of)} shown
      </span>
    </div>
  );
}

/** What such a file looks like. */
function ColumnsHelp({ short }: { short: boolean }) {
  return (
    <div className="parts-columns">
      {!short && <Example />}
      <details>
        <summary>All columns</summary>
        <dl className="parts-columns-list">
          {PART_COLUMNS.map(({ name, expects }) => (
            <div key={name}>
              <dt className="machine">{name}</dt>
              <dd>{expects}</dd>
            </div>
          ))}
        </dl>
      </details>
    </div>
  );
}

function Example() {
  return (
    <>
      <p>
        The first row names the columns, in any order. Two are enough, <code className="machine">part</code> and{' '}
        <code className="machine">tolerance</code>; what a file leaves out is as in the receiving form. Between columns
        a comma, or a semicolon as spreadsheets write it where the comma is the decimal sign.
      </p>
      <pre className="machine">
        {'part,nominal,tolerance,aql,supplier\nTF-4K7-1,4k7,1 %,1.0,Example Supply\nWW-R47-5,R47,5 %,,'}
      </pre>
    </>
  );
}
