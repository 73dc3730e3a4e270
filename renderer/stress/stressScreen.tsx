import { useRef, useState } from 'react';
import type { RunSummary } from '../../core/contract/contract.ts';
import type { ComparedSources } from '../../core/drift/stress.ts';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { FileField } from '../controls/fileField.tsx';
import { showWrong } from '../controls/showWrong.ts';
import { useKept } from '../controls/useKept.ts';
import { WorkBar } from '../controls/workBar.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { Block, Sheet } from '../sheet/sheet.tsx';
import { SheetForm } from '../sheet/sheetForm.tsx';
import { useWriting, WritingEnd } from '../sheet/writtenFile.tsx';
import { useAnswer } from '../station/useAnswer.ts';
import { useOverview } from '../station/useOverview.ts';
import { remember, remembered } from '../theme/remembered.ts';
import { problemWords } from '../words/problemWords.ts';
import {
  ANOTHER_RUN,
  EMPTY_STRESS,
  fieldOfProblem,
  type SeriesDraft,
  type StressDraft,
  type StressField,
  stressMissing,
  stressProblems,
  stressQuestion,
  TREATMENTS,
  type Treatment,
  treatmentOf,
} from './stressDraft.ts';
import { StressReport } from './stressReport.tsx';

/** The same numbered pieces before and after a treatment: what it did to them stands below at once. */
export default function StressScreen() {
  const { overview } = useOverview();
  const form = useRef<HTMLFormElement>(null);
  const kept = useKept<StressDraft>('stress', () => ({ ...EMPTY_STRESS, by: remembered('inspector') ?? '' }));
  const { value: draft, set: setDraft } = kept;
  const [tried, setTried] = useState(false);
  const runs = overview?.runs.filter((run) => !run.study && run.counted > 0).toSorted((a, b) => b.run - a.run) ?? [];

  const problems = stressProblems(draft);
  const missing = stressMissing(draft);
  const question = stressQuestion(draft);
  const { found, work, again } = useAnswer('compare-stress', question);
  const problemFound = found && 'problem' in found ? found.problem : null;
  const result = found && 'answer' in found ? found.answer : null;
  const writing = useWriting(JSON.stringify([question, draft.by]));

  const set = (change: Partial<StressDraft>) => setDraft((before) => ({ ...before, ...change }));
  const problemOf = (field: StressField): string | undefined => {
    if (problems[field]) return problems[field];
    if (problemFound && fieldOfProblem(problemFound.code) === field) return problemWords(problemFound);
    return tried ? missing[field] : undefined;
  };
  const hasMore = overview !== null && overview.runs.length < overview.runCount;
  const series = (when: 'before' | 'after') => ({
    when,
    runs,
    hasMore,
    draft: draft[when],
    problem: problemOf(when),
    onChange: (change: Partial<SeriesDraft>) => setDraft((was) => ({ ...was, [when]: { ...was[when], ...change } })),
  });

  async function write() {
    setTried(true);
    if (!question || !result || draft.by.trim() === '') {
      requestAnimationFrame(() => showWrong(form.current));
      return;
    }
    remember('inspector', draft.by.trim());
    if (await writing.write('write-stress', { ...question, by: draft.by })) kept.done();
  }

  return (
    <Sheet title="Before and after a treatment">
      <p className="unprinted">
        How much did heat, load, soldering or storage change each piece? Pieces are matched by their numbers, and each
        is compared with its own first value.
      </p>
      <SheetForm ref={form} kept={kept} onSend={write}>
        <Series {...series('before')} />
        <Series {...series('after')} />
        <fieldset>
          <legend>Treatment</legend>
          <ChoiceField<Treatment>
            label="What was done between"
            name="treatment"
            value={draft.treatment}
            onChange={(treatment) => set({ treatment })}
            choices={TREATMENTS}
          />
          {draft.treatment === 'own' && (
            <TextField
              label="In own words"
              name="ownTreatment"
              value={draft.ownTreatment}
              onChange={(ownTreatment) => set({ ownTreatment })}
              problem={problemOf('ownTreatment')}
              required
            />
          )}
        </fieldset>
        <fieldset>
          <legend>Limit</legend>
          <div className="sheet-row">
            <TextField
              label="Most a piece may change, ±"
              name="limit"
              value={draft.limit}
              onChange={(limit) => set({ limit })}
              problem={problemOf('limit')}
              hint="like 0.25 % + 0.05 ohm"
              required
            />
            <TextField
              label="Made by"
              name="by"
              value={draft.by}
              onChange={(by) => set({ by })}
              problem={problemOf('by')}
              required
            />
          </div>
        </fieldset>
        <WritingEnd
          writing={writing}
          problem={problemFound && !fieldOfProblem(problemFound.code) ? problemFound : null}
          ready={result !== null}
          checks="it works out every change, limit and verdict again from the values."
        >
          <WorkBar
            work={work}
            words="Comparing the pieces"
            stoppedWords="Stopped. The pieces were not compared."
            again={{ words: 'Compare the pieces', press: again }}
          />
        </WritingEnd>
      </SheetForm>
      {result && (
        <>
          {result.practice && <SimulatedMark where="measure" />}
          <Printed draft={draft} result={result} />
          <StressReport result={result} />
        </>
      )}
    </Sheet>
  );
}

const WHEN_WORDS = { before: 'Before', after: 'After' };

/** Where the values before, or after, come from. */
function Series(props: {
  when: 'before' | 'after';
  runs: readonly RunSummary[];
  /** Whether there are runs that are not among these. */
  hasMore: boolean;
  draft: SeriesDraft;
  problem: string | undefined;
  onChange: (change: Partial<SeriesDraft>) => void;
}) {
  const { when, runs, hasMore, draft, problem, onChange } = props;
  const words = WHEN_WORDS[when];
  const isTyped = draft.run === ANOTHER_RUN;
  return (
    <fieldset>
      <legend>{words}</legend>
      <RadioField<SeriesDraft['from']>
        legend={`Values ${when} the treatment`}
        unseenLegend
        name={`${when}-from`}
        value={draft.from}
        onChange={(from) => onChange({ from })}
        choices={[
          ['run', 'A run'],
          ['file', 'A CSV file'],
        ]}
      />
      {draft.from === 'run' ? (
        <>
          <ChoiceField
            label={`Run ${when}`}
            name={`${when}-run`}
            value={draft.run}
            onChange={(run) => onChange({ run })}
            problem={isTyped ? undefined : problem}
            hint={runs.length === 0 ? 'There is no run with readings yet; a file will do.' : undefined}
            choices={[
              ['', 'Choose a run'],
              ...runs.map((run) => [String(run.run), runWords(run)] as const),
              ...(hasMore || isTyped ? [[ANOTHER_RUN, 'An earlier run, by its number'] as const] : []),
            ]}
          />
          {isTyped && (
            <TextField
              label={`Number of the run ${when}`}
              name={`${when}-typed`}
              value={draft.typed}
              onChange={(typed) => onChange({ typed })}
              problem={problem}
              hint="as the history has it"
              inputMode="numeric"
              required
            />
          )}
        </>
      ) : (
        <FileField
          label={`CSV file ${when}`}
          name={`${when}-file`}
          file={draft.file}
          onFile={(file) => onChange({ file })}
          problem={problem}
          hint={
            <>
              Columns <code className="machine">piece, ohms</code>, and <code className="machine">expanded_ohms</code>{' '}
              (U, k&nbsp;=&nbsp;2) where it is known; an open piece reads <code className="machine">open</code>.
              <pre className="machine">{'piece,ohms\n1,4701.23\n2,4699.87'}</pre>
            </>
          }
        />
      )}
    </fieldset>
  );
}

function runWords({ run, part, lot, simulated }: RunSummary): string {
  return `Run ${run}: ${part}, lot ${lot}${simulated ? ', simulated' : ''}`;
}

/** What stands at the head of the printed pages, in place of the form. */
function Printed({ draft, result }: { draft: StressDraft; result: ComparedSources }) {
  return (
    <div className="printed-only">
      <Block title="What was compared">
        <dl className="certify-facts">
          <dt>Made by</dt>
          <dd>{draft.by || '-'}</dd>
          <dt>Before</dt>
          <dd>{result.beforeSource}</dd>
          <dt>Treatment</dt>
          <dd>{treatmentOf(draft)}</dd>
          <dt>After</dt>
          <dd>{result.afterSource}</dd>
        </dl>
      </Block>
    </div>
  );
}
