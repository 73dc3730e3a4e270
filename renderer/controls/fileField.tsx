import { type DragEvent, type ReactNode, useId, useState } from 'react';
import './field.css';
import './fileField.css';

/** A file that was chosen, read as text. */
export interface ChosenFile {
  name: string;
  text: string;
}

/** More bytes than any file of readings needs; the station takes no more either. */
const MOST_BYTES = 2_000_000;
const MEGABYTE = 1_000_000;

/** A CSV file that is chosen, or dropped on the field. What cannot be read is said beside it; the file before stays. */
export function FileField(props: {
  label: string;
  file: ChosenFile | null;
  onFile: (file: ChosenFile) => void;
  problem?: string | undefined;
  hint?: ReactNode;
  name?: string;
  /** The most bytes such a file may have; as many as any file of readings needs where it is left out. */
  mostBytes?: number;
}) {
  const { mostBytes = MOST_BYTES } = props;
  const id = useId();
  const [unread, setUnread] = useState<string | null>(null);
  const [over, setOver] = useState(false);
  const problem = unread ?? props.problem;

  async function take(files: FileList | null) {
    const chosen = files?.[0];
    if (!chosen) return;
    setUnread(null);
    if (files.length > 1) return setUnread('One file at a time.');
    if (chosen.size > mostBytes)
      return setUnread(`${chosen.name} is larger than ${mostBytes / MEGABYTE} MB, which no such file is.`);
    try {
      // Undecodable bytes are refused rather than read as something else.
      const text = new TextDecoder('utf-8', { fatal: true }).decode(await chosen.arrayBuffer());
      props.onFile({ name: chosen.name, text });
    } catch (thrown) {
      setUnread(
        thrown instanceof TypeError
          ? `${chosen.name} is no text in UTF-8. Save it as CSV in UTF-8, then choose it again.`
          : `${chosen.name} cannot be read.`,
      );
    }
  }

  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    take(event.dataTransfer.files);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is one more way; the field within is the one by keyboard
    <div
      className={over ? 'field file-field file-field-over' : 'field file-field'}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <label htmlFor={id}>{props.label}</label>
      <div className="file-field-line">
        <input
          id={id}
          name={props.name}
          type="file"
          accept=".csv,text/csv,text/plain"
          onChange={(event) => {
            take(event.target.files);
            // The same file, mended, can be chosen again.
            event.target.value = '';
          }}
          aria-invalid={problem ? true : undefined}
          aria-describedby={`${id}-said`}
        />
        <span aria-live="polite">
          {props.file ? (
            <strong className="file-field-name">{props.file.name}</strong>
          ) : (
            <span className="quiet">none chosen; or drop it here</span>
          )}
        </span>
      </div>
      <div id={`${id}-said`}>
        {problem && <p className="field-problem">{problem}</p>}
        {props.hint && !problem && <div className="field-hint">{props.hint}</div>}
      </div>
    </div>
  );
}
