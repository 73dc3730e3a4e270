import { type ReactNode, useCallback, useEffect, useState } from 'react';
import type { Answers, RecordFacts } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { FigureRows } from '../figureRows/figureRows.tsx';
import { OutcomeMark } from '../outcome/outcomeMark.tsx';
import { goTo } from '../route.ts';
import { Block, Sheet } from '../sheet/sheet.tsx';
import { useStation } from '../station/station.tsx';
import { type LongWork, useLongWork } from '../station/useLongWork.ts';
import { counted, formatCount } from '../words/count.ts';
import { formatTime } from '../words/time.ts';
import './recordScreen.css';

type Asked = 'check-record' | 'back-up-record' | 'export-record';

/** What became of what was done from here: said in words, or what went wrong. */
type Done = { words: ReactNode } | { problem: Problem };

/** The record: where it is, how it was found, and what keeps it safe. */
export default function RecordScreen() {
  const { facts, problem, again } = useFacts();
  // Named for what is done, so that who leaves and comes back sees it going on.
  const works: Record<Asked, LongWork> = {
    'check-record': useLongWork('check the record'),
    'back-up-record': useLongWork('back up the record'),
    'export-record': useLongWork('export the record'),
  };
  const [done, setDone] = useState<{ [N in Asked]?: Done }>({});
  const busy = Object.values(works).some((work) => work.busy);

  async function begin<N extends Asked>(by: N, wordsOf: (answer: Answers[N]) => ReactNode) {
    const become = (done?: Done) => setDone((before) => ({ ...before, [by]: done }));
    become();
    try {
      const answer = await works[by].ask(by, {} as never);
      if (answer !== null) become({ words: wordsOf(answer as Answers[N]) });
    } catch (thrown) {
      become({ problem: asProblem(thrown) });
    }
    again();
  }

  return (
    <Sheet
      title="The record"
      aside={
        <div className="actions">
          <Action keyName="h" onPress={() => goTo({ screen: 'history', query: '', trends: false })}>
            History
          </Action>
          <Action {...(!busy && { keyName: 'Escape' })} onPress={() => goTo({ screen: 'runs' })}>
            Back
          </Action>
        </div>
      }
    >
      <ProblemNotice problem={problem} />
      {facts && <Facts facts={facts} />}
      <Task
        title="Check it"
        what="Reads every entry and the whole file, and works out every hash anew. Readings may be taken meanwhile."
        work={works['check-record']}
        words="Checking the record"
        stoppedWords="Stopped. The record was not checked to its end."
        done={done['check-record'] ?? null}
        keyName="c"
        button="Check the record"
        disabled={busy}
        onPress={() =>
          begin('check-record', ({ entries, runs, hash }) => (
            <>
              <OutcomeMark outcome="passed" words="Intact" /> {counted(entries, 'entry', 'entries')} of{' '}
              {counted(runs, 'run', 'runs')}, the last with the hash <span className="machine">{hash}</span>
            </>
          ))
        }
      />
      <Task
        title="Back it up"
        what={`Copies it into one new file, and checks the copy before it gets its name. Readings may be taken meanwhile.`}
        where={facts?.backupFolder}
        work={works['back-up-record']}
        words="Backing up the record"
        stoppedWords="Stopped. There is no copy of this time."
        done={done['back-up-record'] ?? null}
        keyName="b"
        button="Back up"
        disabled={busy}
        onPress={() =>
          begin('back-up-record', ({ file, bytes, entries }) => (
            <>
              <OutcomeMark outcome="passed" words="Copied and checked" /> {counted(entries, 'entry', 'entries')},{' '}
              {sizeWords(bytes)}: <span className="machine">{file}</span>
            </>
          ))
        }
      />
      <Task
        title="Take all of it along"
        what="Writes everything into a new folder in open formats: each entry as a line of JSON with its hashes, lots and readings as CSV."
        where={facts?.exportFolder}
        work={works['export-record']}
        words="Exporting the record"
        stoppedWords="Stopped. Nothing was exported."
        done={done['export-record'] ?? null}
        keyName="e"
        button="Export all"
        disabled={busy}
        onPress={() =>
          begin('export-record', ({ folder, entries }) => (
            <>
              <OutcomeMark outcome="passed" words="Exported" /> {counted(entries, 'entry', 'entries')}:{' '}
              <span className="machine">{folder}</span>
            </>
          ))
        }
      />
      <Block title="Putting a copy in its place">
        <p className="record-what">
          A station writes to the record for as long as it is open, so a copy is put in its place from a terminal, with
          the station closed. The copy is checked first; the record that was there is kept under another name.
        </p>
        <p className="machine record-command">npx reelohm record restore COPY.sqlite --replace</p>
      </Block>
    </Sheet>
  );
}

function useFacts(): { facts: RecordFacts | null; problem: Problem | null; again: () => void } {
  const { line, up } = useStation();
  const [facts, setFacts] = useState<RecordFacts | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [times, setTimes] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked up again when something was done
  useEffect(() => {
    if (!up) return;
    let current = true;
    line.ask('record-facts', {}).then(
      (found) => current && setFacts(found),
      (thrown) => current && setProblem(asProblem(thrown)),
    );
    return () => {
      current = false;
    };
  }, [line, up, times]);
  return { facts, problem, again: useCallback(() => setTimes((before) => before + 1), []) };
}

function Facts({ facts: { file, bytes, entries, runs, lastCheck } }: { facts: RecordFacts }) {
  const good = lastCheck?.problem === null;
  return (
    <FigureRows
      rows={[
        { name: 'File', words: <span className="machine record-file">{file}</span> },
        { name: 'Size', value: sizeWords(bytes) },
        { name: 'Runs', value: formatCount(runs) },
        { name: 'Entries', value: formatCount(entries) },
        {
          name: 'Last whole check',
          words:
            lastCheck === null ? (
              'None was made here. Each start checks what was added, and the last 50 000 entries at most.'
            ) : (
              <>
                <OutcomeMark outcome={good ? 'passed' : 'failed'} words={good ? 'Intact' : 'Not intact'} />{' '}
                {formatTime(lastCheck.at)}, {counted(lastCheck.entries, 'entry', 'entries')}
                {lastCheck.problem && `. ${lastCheck.problem.what}.`}
              </>
            ),
        },
      ]}
    />
  );
}

/** Something that can be done with the record, how far it is, and what became of it. */
function Task(props: {
  title: string;
  what: string;
  /** Where what it writes is. */
  where?: string | undefined;
  work: LongWork;
  words: string;
  stoppedWords: string;
  done: Done | null;
  keyName: string;
  button: string;
  disabled: boolean;
  onPress: () => void;
}) {
  const { title, what, where, work, words, stoppedWords, done, keyName, button, disabled, onPress } = props;
  return (
    <Block title={title}>
      <p className="record-what">
        {what}
        {where !== undefined && (
          <>
            {' '}
            It goes to <span className="machine record-file">{where}</span>.
          </>
        )}
      </p>
      <WorkBar work={work} words={words} stoppedWords={stoppedWords} />
      <div className="actions">
        <Action keyName={keyName} disabled={disabled} onPress={onPress}>
          {button}
        </Action>
      </div>
      <ProblemNotice problem={done && 'problem' in done ? done.problem : null} />
      <p role="status" className="record-done">
        {done && 'words' in done && done.words}
      </p>
    </Block>
  );
}

const UNITS = ['bytes', 'kB', 'MB', 'GB', 'TB'] as const;

/** A size as files have it, in powers of a thousand (IEC 80000-13), like `1.2 GB`. */
function sizeWords(bytes: number): string {
  const power = Math.min(UNITS.length - 1, bytes < 1000 ? 0 : Math.floor(Math.log10(bytes) / 3));
  const figure = bytes / 1000 ** power;
  return `${figure.toFixed(power > 0 && figure < 99.95 ? 1 : 0)}\u00a0${UNITS[power]}`;
}
