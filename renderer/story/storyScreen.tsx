import { useEffect, useRef } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import type { StoryKind, StoryLine } from '../../core/inspection/story.ts';
import { PagedTable } from '../charts/pagedTable.tsx';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { LookPage } from '../lookPage.tsx';
import { useAnswer } from '../station/useAnswer.ts';
import { formatLater, formatTime, withTimes } from '../words/time.ts';
import './storyScreen.css';

/** All that happened in a run, in order: when, who, what; as the entries of the record say. */
export default function StoryScreen({ number, run, back }: { number: number; run: Run; back: () => void }) {
  const { found, work, again } = useAnswer('story-of-run', { run: number });
  useAgainAfter(run, again);
  const story = found && 'answer' in found ? found.answer : null;
  return (
    <LookPage number={number} run={run} title="What happened" back={back}>
      <p className="quiet">
        From the entries of the record, each checked against its hash. Nothing is ever taken out: what was corrected
        stands there with what it was.
      </p>
      <ProblemNotice problem={found && 'problem' in found ? found.problem : null} />
      <WorkBar
        work={work}
        words="Reading what happened"
        stoppedWords="Stopped. The record was not read to its end."
        escapeLeaves
      />
      {work.stopped && (
        <div className="actions">
          <Action onPress={again}>Read what happened</Action>
        </div>
      )}
      {story && (
        <div className="story">
          <PagedTable
            columns={['When', 'Who', 'What happened']}
            count={story.length}
            row={(index) => <StoryRow line={story[index] as StoryLine} />}
          />
        </div>
      )}
      {!found && !work.stopped && <p role="status">Reading what happened …</p>}
    </LookPage>
  );
}

/** Asks once more when something happened in the run that is no reading: of these many come, and each would begin the story anew. */
function useAgainAfter({ history, decided, certificates }: Run, again: () => void): void {
  const happened = `${history.size} ${decided?.at} ${certificates.length}`;
  const told = useRef(happened);
  useEffect(() => {
    if (told.current === happened) return;
    told.current = happened;
    again();
  }, [happened, again]);
}

/** What decides the lot, or changes what was said of it. */
const WEIGHTY: ReadonlySet<StoryKind> = new Set([
  'lot-decided',
  'decision-corrected',
  'facts-corrected',
  'hold-lifted',
  'calibration-overridden',
  'readings-suspect',
]);

function StoryRow({ line }: { line: StoryLine }) {
  const { at, until, by, words, kind } = line;
  const [from, to] = [formatTime(at), formatTime(until)];
  return (
    <tr className={WEIGHTY.has(kind) ? 'story-weighty' : undefined}>
      <td className="figures story-when">
        <time dateTime={at}>{from}</time>
        {to !== from && (
          <>
            {' to '}
            <time dateTime={until}>{formatLater(until, at)}</time>
          </>
        )}
      </td>
      <td className="story-who">{by}</td>
      <td className="story-what">{withTimes(words)}</td>
    </tr>
  );
}
