import { useMemo, useState } from 'react';
import type { ContinuityList } from '../../core/contract/contract.ts';
import type { Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { goTo, hashOf } from '../route.ts';
import { Block, Sheet } from '../sheet/sheet.tsx';
import { formatCount } from '../words/count.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { formatTime } from '../words/time.ts';
import { NewWiring } from './newWiring.tsx';
import { WiringDesk } from './wiringDesk.tsx';
import { STEP_WORDS } from './wiringWords.ts';
import './wiring.css';

import { useLookedUp } from '../station/useLookedUp.ts';

/** More letters are not looked for. */
const LONGEST_TEXT = 200;

/** Continuity runs: the list of them with what a new one begins with, or one of them. */
export default function WiringScreen({ run }: { run?: number | undefined }) {
  return run === undefined ? <WiringRuns /> : <WiringDesk key={run} number={run} />;
}

function WiringRuns() {
  const [isNew, setNew] = useState(false);
  const [text, setText] = useState('');
  const { list, problem } = useRuns(text);
  const none = list?.total === 0 && text === '';
  return (
    <Sheet
      title="Continuity runs"
      aside={
        !isNew &&
        !none && (
          <div className="actions">
            <Action primary keyName="n" onPress={() => setNew(true)}>
              New list
            </Action>
            <Action keyName="c" onPress={() => goTo({ screen: 'continuity' })}>
              Only a tone
            </Action>
          </div>
        )
      }
    >
      {(isNew || none) && (
        <>
          <p>
            Wires, jumpers, contacts and switches, point by point from a list: what must be closed, what must be open,
            what is connected across. It goes into the record and ends with a certificate. For a tone without a record
            there is <a href={hashOf({ screen: 'continuity' })}>Check continuity</a>.
          </p>
          <NewWiring onBack={none ? null : () => setNew(false)} />
        </>
      )}
      <ProblemNotice problem={problem} />
      {!isNew && !none && list && (
        <Block title="Runs" wide>
          <TextField
            label="Find"
            name="text"
            value={text}
            onChange={setText}
            hint="Words of title, drawing, serial number or name"
          />
          <RunsTable list={list} />
        </Block>
      )}
    </Sheet>
  );
}

/** The runs that are looked for, looked up again whenever something happened in one. */
function useRuns(text: string): { list: ContinuityList | null; problem: Problem | null } {
  const asked = useMemo(() => ({ text: text.slice(0, LONGEST_TEXT) }), [text]);
  const { found, problem } = useLookedUp('continuity-runs', asked, 'continuity-entry');
  return { list: found, problem };
}

function RunsTable({ list }: { list: ContinuityList }) {
  if (list.runs.length === 0) return <p role="status">No run has all these words.</p>;
  return (
    <>
      <table>
        <thead>
          <tr>
            <th scope="col">Run</th>
            <th scope="col">What</th>
            <th scope="col">Drawing, serial number</th>
            <th scope="col">Points</th>
            <th scope="col">Not as expected</th>
            <th scope="col">Stands at</th>
            <th scope="col">Received</th>
            <td />
          </tr>
        </thead>
        <tbody>
          {list.runs.map((run) => (
            <tr key={run.run}>
              <td className="figures">{run.run}</td>
              <th scope="row">
                {run.title}
                {run.simulated && <span className="runs-simulated hatched"> simulated</span>}
              </th>
              <td>{[run.drawing, run.serial].filter((text) => text !== '').join(', ')}</td>
              <td className="figures">
                {formatCount(run.asExpected + run.notAsExpected + run.cannotTell + run.skipped)} of{' '}
                {formatCount(run.pointCount)}
              </td>
              <td className="figures">{formatCount(run.notAsExpected)}</td>
              <td>{run.disposition ? DISPOSITION_WORDS[run.disposition] : STEP_WORDS[run.step]}</td>
              <td>
                {formatTime(run.receivedAt)} <span className="quiet small">{run.inspector}</span>
              </td>
              <td>
                <Action
                  label={`Open run ${run.run}, ${run.title}`}
                  onPress={() => goTo({ screen: 'wiring', run: run.run })}
                >
                  Open
                </Action>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {list.total > list.runs.length && (
        <p className="quiet">
          These are the latest {formatCount(list.runs.length)} of {formatCount(list.total)}.
        </p>
      )}
    </>
  );
}
