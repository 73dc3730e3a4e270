import type { PartsIndex } from '../../core/part/findParts.ts';
import { oddValue } from '../../core/part/oddValue.ts';
import type { PartInput } from '../../core/part/part.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { PartFinder } from '../parts/partFinder.tsx';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { windowText } from '../words/ohms.ts';
import type { Draft, DraftRead } from './draft.ts';
import type { FieldOf } from './fieldOf.ts';
import type { Filled } from './filled.ts';
import { FilledFrom } from './filledFrom.tsx';
import { KeepAsPart } from './keepAsPart.tsx';
import { ValueFields } from './valueFields.tsx';

/** What the part is and what it claims: found in the parts list, read off a piece, or typed. */
export function PartFields(props: {
  draft: Draft;
  read: DraftRead;
  field: FieldOf;
  index: PartsIndex | null;
  filled: Filled | null;
  /** A part whose number stands there, and which the form is not filled from. */
  offered: PartInput | null;
  autoFocus: boolean;
  onChoose: (part: PartInput) => void;
  onNumberLeft: () => void;
  onTakeBack: () => void;
  onMarking: () => void;
}) {
  const { draft, read, field, filled } = props;
  const number = field('partNumber');
  return (
    <>
      <div className="receive-row">
        <PartFinder
          label="Part number"
          {...number}
          onBlur={() => {
            number.onBlur();
            props.onNumberLeft();
          }}
          index={props.index}
          chosen={filled?.from.kind === 'part' ? filled.from.part.number : null}
          onChoose={props.onChoose}
          autoFocus={props.autoFocus}
        />
        <TextField label="Description" {...field('description')} />
      </div>
      <ValueFields field={field} />
      <div className="receive-part-ways">
        <Action onPress={props.onMarking}>Read off the part</Action>
        {props.offered !== null && (
          <Action onPress={() => props.offered && props.onChoose(props.offered)}>
            Fill in part {props.offered.number}
          </Action>
        )}
        <KeepAsPart draft={draft} index={props.index} />
        {filled && <FilledFrom filled={filled} draft={draft} onTakeBack={props.onTakeBack} />}
      </div>
      <WindowMeant read={read} />
    </>
  );
}

/** The window that nominal value and tolerance give, and what is odd about the value. */
export function WindowMeant({ read }: { read: DraftRead }) {
  const odd = oddValue(read);
  return (
    <div className="receive-meaning" aria-live="polite">
      {read.window ? (
        <>
          <p>
            A good piece has <strong className="figures">{windowText(read.window)}</strong>.
          </p>
          {odd !== null && (
            <p className="receive-odd small">
              <strong>Look again:</strong> {odd}
            </p>
          )}
          <WindowBar window={read.window} />
        </>
      ) : (
        <p className="quiet">Nominal value and tolerance give the window a good piece must lie in.</p>
      )}
    </div>
  );
}
