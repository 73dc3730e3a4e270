import { useMemo, useState } from 'react';
import { type ContinuityPreview, previewPoints } from '../../core/continuity/continuityClaim.ts';
import { CROSS_CHOICES, type CrossChoice } from '../../core/continuity/crossPairs.ts';
import { limitFault, USUAL_LIMITS } from '../../core/continuity/limits.ts';
import { LIST_COLUMNS } from '../../core/continuity/readPointList.ts';
import { asProblem, Problem, type ProblemText } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { Action } from '../controls/action.tsx';
import { RadioField, TextField } from '../controls/field.tsx';
import { FileField } from '../controls/fileField.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { TextAreaField } from '../network/textAreaField.tsx';
import { goTo } from '../route.ts';
import { useStation } from '../station/station.tsx';
import { remember, remembered } from '../theme/remembered.ts';
import { counted, formatCount } from '../words/count.ts';
import { CROSS_HINTS, CROSS_TITLES } from './wiringWords.ts';

/** Invented. */
const EXAMPLE = `wire,from,to,expected,state,note
W1,X1:1,X2:1,closed,,supply
W2,X1:2,X2:2,closed,,return
W3,X1:3,X2:3,closed,,signal
,X1:3,X3:1,closed,,jumper
Q1,L1,T1,closed,Q1 on,breaker
Q1,L1,T1,open,Q1 off,breaker
`;

interface Draft {
  title: string;
  drawing: string;
  serial: string;
  inspector: string;
  csv: string;
  closedBelow: string;
  openAbove: string;
  cross: CrossChoice;
}

const begin = (): Draft => ({
  title: '',
  drawing: '',
  serial: '',
  inspector: remembered('inspector') ?? '',
  csv: '',
  closedBelow: USUAL_LIMITS.closedBelowOhms,
  openAbove: '1M',
  cross: 'nets',
});

/** What a new run begins with: who and what, the list with all that is wrong with it, limits, cross-connections. */
export function NewWiring({ onBack }: { onBack: (() => void) | null }) {
  const { line, up } = useStation();
  const [draft, setDraft] = useState(begin);
  const [fileName, setFileName] = useState<string | null>(null);
  const [tried, setTried] = useState(false);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  const set = (change: Partial<Draft>) => setDraft((before) => ({ ...before, ...change }));
  const { csv } = draft;
  const read = useMemo(() => previewOf(csv), [csv]);
  const preview = read !== null && 'points' in read ? read : null;
  const listProblem = read !== null && 'what' in read ? `${read.what}. ${read.toDo}` : undefined;
  const closed = readLimit('closed', draft.closedBelow);
  const open = readLimit('open', draft.openAbove);
  const cross = preview?.crossCounts[draft.cross];
  const isGood =
    preview !== null &&
    preview.bad.length === 0 &&
    preview.points.length > 0 &&
    cross !== null &&
    'ohms' in closed &&
    'ohms' in open &&
    draft.title.trim() !== '' &&
    draft.inspector.trim() !== '';

  async function receive() {
    setTried(true);
    if (!isGood || busy || !('ohms' in closed) || !('ohms' in open)) return;
    setBusy(true);
    setProblem(null);
    try {
      const { title, drawing, serial, inspector } = draft;
      const { run } = await line.ask('receive-continuity', {
        claim: {
          title,
          drawing,
          serial,
          inspector,
          csv,
          cross: draft.cross,
          closedBelowOhms: closed.ohms,
          openAboveOhms: open.ohms,
        },
      });
      remember('inspector', inspector.trim());
      goTo({ screen: 'wiring', run });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  const missing = (text: string) => (tried && text.trim() === '' ? 'Must not be empty.' : undefined);
  return (
    <form
      className="sheet-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        receive();
      }}
    >
      <div className="sheet-column">
        <fieldset>
          <legend>What is measured</legend>
          <TextField
            label="What it is"
            name="title"
            value={draft.title}
            onChange={(title) => set({ title })}
            problem={missing(draft.title)}
            hint="Like door harness, or terminal strip X1"
            autoFocus
            required
          />
          <div className="sheet-row">
            <TextField
              label="Drawing or harness"
              name="drawing"
              value={draft.drawing}
              onChange={(drawing) => set({ drawing })}
            />
            <TextField
              label="Serial number or lot"
              name="serial"
              value={draft.serial}
              onChange={(serial) => set({ serial })}
            />
          </div>
          <TextField
            label="Inspector"
            name="inspector"
            value={draft.inspector}
            onChange={(inspector) => set({ inspector })}
            problem={missing(draft.inspector)}
            required
          />
        </fieldset>
        <fieldset>
          <legend>Limits</legend>
          <div className="sheet-row">
            <TextField
              label="Closed below"
              name="closed-below"
              value={draft.closedBelow}
              onChange={(closedBelow) => set({ closedBelow })}
              problem={'wrong' in closed ? closed.wrong : undefined}
              hint="Ohms, the leads subtracted; from 0.5 to 1k"
            />
            <TextField
              label="Open above"
              name="open-above"
              value={draft.openAbove}
              onChange={(openAbove) => set({ openAbove })}
              problem={'wrong' in open ? open.wrong : undefined}
              hint="From 10k to 10M"
            />
          </div>
          <p className="quiet small">
            Between the two is neither open nor closed. What is nearer to a limit than meter and leads may be wrong by
            is not judged. For contact resistance and bonding, and for insulation, there are instruments of their own.
          </p>
        </fieldset>
        <fieldset>
          <legend>Cross-connections looked for besides</legend>
          <RadioField
            legend="Which pairs"
            unseenLegend
            name="cross"
            value={draft.cross}
            onChange={(choice) => set({ cross: choice })}
            choices={CROSS_CHOICES.map((choice) => [choice, crossWords(choice, preview)] as const)}
            hint={CROSS_HINTS[draft.cross]}
          />
          {cross === null && (
            <p className="field-problem" role="alert">
              That would be more points than a run can have. Choose fewer pairs, or part the list.
            </p>
          )}
        </fieldset>
      </div>
      <div className="sheet-column">
        <fieldset>
          <legend>The list</legend>
          <FileField
            label="From a CSV file"
            name="list-file"
            file={fileName === null ? null : { name: fileName, text: csv }}
            onFile={({ name, text }) => {
              setFileName(name);
              set({ csv: text });
            }}
            hint={`Columns ${LIST_COLUMNS.join(', ')}; from and to must be there. Commas or semicolons.`}
          />
          <TextAreaField
            label="Or typed"
            name="list"
            value={csv}
            onChange={(text) => {
              setFileName(null);
              set({ csv: text });
            }}
            onBlur={() => undefined}
            problem={listProblem ?? (tried && csv.trim() === '' ? 'Give a list, or fill in the example.' : undefined)}
            hint="expected is closed or open; state says how a switch stands, like Q1 on."
          />
          {csv.trim() === '' && (
            <div className="actions">
              <Action onPress={() => set({ csv: EXAMPLE, title: draft.title || 'Example harness' })}>
                Fill in an example
              </Action>
            </div>
          )}
          {preview && <PreviewBlock preview={preview} />}
        </fieldset>
      </div>
      <div className="sheet-end">
        <ProblemNotice problem={problem} />
        {tried && preview !== null && preview.bad.length > 0 && (
          <p className="field-problem" role="alert">
            {counted(preview.bad.length, 'row of the list is', 'rows of the list are')} to be put right first. Nothing
            is lost.
          </p>
        )}
        <div className="actions">
          <Action primary submits keyName="Enter" disabled={busy || up !== true}>
            {isGood
              ? `Begin with ${counted((preview?.points.length ?? 0) + (cross ?? 0), 'point', 'points')}`
              : 'Begin'}
          </Action>
          <Action keyName="Escape" onPress={onBack ?? (() => goTo({ screen: 'runs' }))}>
            Back
          </Action>
        </div>
      </div>
    </form>
  );
}

function previewOf(csv: string): ContinuityPreview | ProblemText | null {
  if (csv.trim() === '') return null;
  try {
    return previewPoints(csv);
  } catch (thrown) {
    return asProblem(thrown);
  }
}

function readLimit(expected: 'closed' | 'open', text: string): { ohms: string } | { wrong: string } {
  try {
    const ohms = plain(parseOhms(text));
    const wrong = limitFault(expected, ohms);
    return wrong === null ? { ohms } : { wrong: `${wrong}.` };
  } catch (thrown) {
    if (!(thrown instanceof Problem)) throw thrown;
    return { wrong: `${thrown.what}. ${thrown.toDo}` };
  }
}

function crossWords(choice: CrossChoice, preview: ContinuityPreview | null): string {
  const count = preview?.crossCounts[choice];
  if (choice === 'none' || count === undefined) return CROSS_TITLES[choice];
  return `${CROSS_TITLES[choice]} (${count === null ? 'too many' : `${formatCount(count)} more`})`;
}

const MOST_FAULTS_SHOWN = 50;

/** What the list comes to, and every row that is wrong. */
function PreviewBlock({ preview }: { preview: ContinuityPreview }) {
  const { points, bad, unread, terminals } = preview;
  const closed = points.filter(({ expected }) => expected === 'closed').length;
  return (
    <div className="wiring-preview">
      <p role="status">
        {counted(points.length, 'good point', 'good points')}: {formatCount(closed)} closed,{' '}
        {formatCount(points.length - closed)} open, {counted(terminals, 'terminal', 'terminals')}.
        {bad.length > 0 && <strong> {counted(bad.length, 'fault', 'faults')}.</strong>}
      </p>
      {unread.length > 0 && <p className="quiet small">Left alone, not known here: {unread.join(', ')}</p>}
      {bad.length > 0 && (
        <table className="wiring-faults">
          <thead>
            <tr>
              <th scope="col">Row</th>
              <th scope="col">Column</th>
              <th scope="col">What is wrong</th>
            </tr>
          </thead>
          <tbody>
            {bad.slice(0, MOST_FAULTS_SHOWN).map(({ row, column, value, why }) => (
              <tr key={`${row} ${column} ${why}`}>
                <th scope="row" className="figures">
                  {row}
                </th>
                <td>{column ?? 'the row'}</td>
                <td>
                  {value !== '' && <span className="machine">“{value}” </span>}
                  {why}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {bad.length > MOST_FAULTS_SHOWN && <p>And {formatCount(bad.length - MOST_FAULTS_SHOWN)} more.</p>}
    </div>
  );
}
