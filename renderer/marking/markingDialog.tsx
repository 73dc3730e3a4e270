import { type RefObject, useId, useRef, useState } from 'react';
import { COLOUR_NAMES } from '../../core/marking/colour.ts';
import { isMarked, type Marked } from '../../core/marking/marking.ts';
import { preferredWarning } from '../../core/marking/preferredWarning.ts';
import { withoutLastColour } from '../../core/marking/readColours.ts';
import { Action } from '../controls/action.tsx';
import { RadioField, TextField } from '../controls/field.tsx';
import { usePause } from '../controls/usePause.ts';
import { WhatItMeans } from '../terms/whatItMeans.tsx';
import { BandsDrawn } from './bandsDrawn.tsx';
import { type MarkingKind, type MarkingRead, markedWords, readEntered, withColour } from './markingRead.ts';
import '../controls/dialog.css';
import './markingDialog.css';

/** What was read off a part: its value, and the marking in words. */
export interface MarkingUsed {
  marked: Marked;
  /** Like `bands brown black red gold`. */
  from: string;
}

/** Opens it with the cursor where the marking is typed. */
export function openMarking(dialog: HTMLDialogElement | null): void {
  dialog?.showModal();
  dialog?.querySelector<HTMLInputElement>('input[name=marking]')?.focus();
}

/** Reads a value off a part: colour bands, clicked or typed, or a code. Opened by {@link openMarking}. */
export function MarkingDialog(props: { ref: RefObject<HTMLDialogElement | null>; onUse: (used: MarkingUsed) => void }) {
  const { ref } = props;
  const [opened, setOpened] = useState(0);
  return (
    <dialog
      ref={ref}
      className="dialog marking"
      aria-labelledby="marking-title"
      onClose={(event) => {
        // The next marking begins with an empty form.
        if (event.target === event.currentTarget) setOpened((before) => before + 1);
      }}
    >
      <MarkingForm
        key={opened}
        onUse={(used) => {
          ref.current?.close();
          props.onUse(used);
        }}
        onLeave={() => ref.current?.close()}
      />
    </dialog>
  );
}

const HINTS: Record<MarkingKind, string> = {
  bands: 'brown black red gold, or bn bk rd gd',
  code: '4K7, 103, 4992, 01B',
};

function MarkingForm(props: { onUse: (used: MarkingUsed) => void; onLeave: () => void }) {
  const [kind, setKind] = useState<MarkingKind>('bands');
  const [text, setText] = useState({ bands: '', code: '' });
  const [chosen, setChosen] = useState<number | null>(null);
  const [tried, setTried] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const entered = text[kind];
  const read = readEntered(kind, entered);
  const paused = usePause(entered);
  const way = chosen ?? read.likelier;
  const taken = way === null ? undefined : read.ways[way]?.read;
  const marked = taken && isMarked(taken) ? taken : null;

  function enter(to: string) {
    setText((before) => ({ ...before, [kind]: to }));
    setChosen(null);
    setTried(false);
  }

  function use() {
    if (marked) return props.onUse({ marked, from: `${kind === 'bands' ? 'bands' : 'code'} ${entered.trim()}` });
    setTried(true);
    requestAnimationFrame(() => {
      const first = read.ways.length > 0 ? 'input[name=way]' : 'input[name=marking]';
      form.current?.querySelector<HTMLElement>(first)?.focus();
    });
  }

  const missing = tried && entered.trim() === '' ? 'Give what stands on the part.' : undefined;
  return (
    <form
      ref={form}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        event.stopPropagation();
        use();
      }}
    >
      <h2 id="marking-title">Read a value off the part</h2>
      <RadioField<MarkingKind>
        legend="What it carries"
        unseenLegend
        name="kind"
        value={kind}
        onChange={(to) => {
          setKind(to);
          setChosen(null);
          setTried(false);
        }}
        choices={[
          ['bands', 'Colour bands'],
          ['code', 'Letters and digits'],
        ]}
      />
      <TextField
        key={kind}
        label={kind === 'bands' ? 'Colours, one after the other' : 'What is printed on it'}
        term={kind === 'bands' ? 'colour-bands' : 'marking-code'}
        name="marking"
        value={entered}
        onChange={enter}
        problem={((paused && read.toCome === null) || tried ? read.problem : null) ?? missing}
        hint={HINTS[kind]}
      />
      {kind === 'bands' && (
        <>
          <ColourButtons onColour={(colour) => enter(withColour(entered, colour))} />
          <BandsDrawn colours={read.colours} />
        </>
      )}
      <Ways read={read} way={way} onChoose={setChosen} tried={tried} />
      <div className="actions">
        <Action primary submits keyName="Enter">
          {marked ? `Use ${markedWords(marked)}` : 'Use the value'}
        </Action>
        {kind === 'bands' && (
          <Action onPress={() => enter(withoutLastColour(entered))} disabled={entered.trim() === ''}>
            Take the last band off
          </Action>
        )}
        <button type="button" className="action" onClick={props.onLeave}>
          <span>Leave it</span>
          <span className="key" aria-hidden="true">
            Esc
          </span>
        </button>
      </div>
    </form>
  );
}

function ColourButtons({ onColour }: { onColour: (colour: (typeof COLOUR_NAMES)[number]) => void }) {
  return (
    <fieldset className="marking-colours">
      <legend className="unseen">Add a band</legend>
      {COLOUR_NAMES.map((colour) => (
        <button key={colour} type="button" className="action marking-colour" onClick={() => onColour(colour)}>
          <span className={`marking-swatch band band-${colour}`} aria-hidden="true" />
          <span>{colour}</span>
        </button>
      ))}
    </fieldset>
  );
}

/** The ways the marking may be meant, one to be chosen. */
function Ways(props: { read: MarkingRead; way: number | null; onChoose: (way: number) => void; tried: boolean }) {
  const { read, way, tried } = props;
  const id = useId();
  if (read.ways.length === 0) {
    return (
      <p className="quiet marking-none" role="status">
        {read.toCome === null ? EMPTY : `${read.toCome}.`}
      </p>
    );
  }
  const undecided = tried && way === null;
  return (
    <fieldset className="marking-ways" aria-describedby={`${id}-why`}>
      <legend>
        {read.ways.length === 1 ? 'It says' : 'It may say'} <WhatItMeans term="preferred-number" />
      </legend>
      <p id={`${id}-why`} className={undecided ? 'field-problem' : 'small'} role={undecided ? 'alert' : undefined}>
        {undecided && 'Choose one of them. '}
        {read.why}
      </p>
      {read.ways.map(({ name, read: meant }, at) =>
        isMarked(meant) ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: a way is its place
          <div key={at} className="marking-way">
            <label className="tick">
              <input type="radio" name="way" checked={way === at} onChange={() => props.onChoose(at)} />
              <span>
                <strong className="figures">{markedWords(meant)}</strong>
                {name && <span className="quiet"> {name}</span>}
                {read.likelier === at && read.ways.length > 1 && <span> likelier</span>}
              </span>
            </label>
            <p className="small quiet marking-how">{meant.words}</p>
            <Cautions marked={meant} />
          </div>
        ) : (
          // biome-ignore lint/suspicious/noArrayIndexKey: a way is its place
          <p key={at} className="small quiet marking-not">
            {name}: {meant.refused}
          </p>
        ),
      )}
    </fieldset>
  );
}

const EMPTY =
  'Begin at the end where the first band is nearest, or at either end: both directions are read, and shown where both make sense.';

/** What to know before relying on a meaning; a warning never refuses. */
function Cautions({ marked }: { marked: Marked }) {
  const odd = preferredWarning(marked.ohms, marked.tolerancePercent);
  const cautions = odd === null ? marked.cautions : [...marked.cautions, odd];
  return cautions.map((caution) => (
    <p key={caution} className="small marking-caution">
      {caution}
    </p>
  ));
}
