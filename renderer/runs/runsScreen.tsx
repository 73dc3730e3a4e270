import { useEffect, useLayoutEffect, useRef } from 'react';
import type { RunSummary } from '../../core/contract/contract.ts';
import type { Step } from '../../core/inspection/run.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { goTo, hashOf, type Route } from '../route.ts';
import { useOverview } from '../station/useOverview.ts';
import { formatCount } from '../words/count.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { formatTime } from '../words/time.ts';
import { NoRunsYet } from './noRunsYet.tsx';
import './runsScreen.css';

const STEP_TO_DO: Record<Step, string> = {
  ready: 'Get the bench ready',
  measure: 'Measure',
  decide: 'Decide',
  certify: 'Certify',
};

/** The start page: runs to go on with, runs that are done, and the next lot. */
export function RunsScreen() {
  const { overview, problem } = useOverview();
  useEffect(() => {
    document.title = 'Runs · Reelohm';
  }, []);

  const latestFirst = overview?.runs.toSorted((a, b) => b.run - a.run) ?? [];
  const toGoOn = latestFirst.filter((run) => run.disposition === null || run.disposition === 'on-hold');
  const done = latestFirst.filter((run) => run.disposition !== null && run.disposition !== 'on-hold');

  return (
    <main className="runs">
      {overview?.runCount === 0 ? (
        <NoRunsYet receive={<Receive />} besides={<Besides explained />} />
      ) : (
        <div className="runs-head">
          <h1>Runs</h1>
          {overview && (
            <div className="actions">
              <Receive />
              <Besides />
            </div>
          )}
        </div>
      )}
      <ProblemNotice problem={problem} />
      {toGoOn.length > 0 && (
        <section aria-labelledby="runs-open">
          <h2 id="runs-open">To go on with</h2>
          <RunTable runs={toGoOn} verb="Go on" />
        </section>
      )}
      {done.length > 0 && (
        <section aria-labelledby="runs-done">
          <h2 id="runs-done">Decided</h2>
          <RunTable runs={done} verb="Show" />
        </section>
      )}
      {overview && overview.runs.length < overview.runCount && (
        <p className="quiet">
          These are {formatCount(overview.runs.length)} of {formatCount(overview.runCount)} runs: the latest, and those
          to go on with. <a href={hashOf({ screen: 'history', query: '', trends: false })}>History</a> has all of them.
        </p>
      )}
      {overview && (
        <footer className="runs-foot small quiet">
          <p>
            <a href={hashOf({ screen: 'record' })}>Record</a>: {overview.recordFile}
          </p>
          <p>Certificates: {overview.certificateFolder}</p>
          <p>Reelohm {overview.version}</p>
        </footer>
      )}
    </main>
  );
}

/** What can be begun from here besides receiving a lot, and what it is for. */
const BESIDES: readonly (readonly [keyName: string, route: Route, words: string, what: string])[] = [
  [
    'h',
    { screen: 'history', query: '', trends: false },
    'History',
    'All lots there were, found again, and how they went.',
  ],
  ['s', { screen: 'study' }, 'Study the measurement', 'How much of the spread is the meter, the contact and the hand.'],
  ['b', { screen: 'stress' }, 'Compare before and after', 'How far heat, load or soldering moved each piece.'],
  [
    'w',
    { screen: 'networks' },
    'Networks',
    'What resistors that are joined read together, and which of them is open or short.',
  ],
  ['p', { screen: 'parts' }, 'Parts', 'What a part number stands for, entered once.'],
  ['e', { screen: 'practice' }, 'Practice', 'Exercises on the simulated bench, with a debrief of each.'],
  [
    'l',
    { screen: 'wiring' },
    'Continuity runs',
    'A list of wires, contacts and switches: closed, open, connected across; with a certificate.',
  ],
  ['c', { screen: 'continuity' }, 'Check continuity', 'A tone for as long as a wire or a contact is closed.'],
];

function Besides({ explained = false }: { explained?: boolean }) {
  const ways = BESIDES.map(([keyName, route, words, what]) => {
    const action = (
      <Action key={keyName} keyName={keyName} onPress={() => goTo(route)}>
        {words}
      </Action>
    );
    return explained ? (
      <li key={keyName}>
        {action}
        <span className="quiet small">{what}</span>
      </li>
    ) : (
      action
    );
  });
  return explained ? <ul className="no-runs-besides">{ways}</ul> : ways;
}

/** The primary action: it has the focus when the page opens, so that Enter does it too. */
function Receive() {
  const button = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => button.current?.focus(), []);
  return (
    <Action ref={button} primary keyName="n" onPress={() => goTo({ screen: 'receive' })}>
      Receive a lot
    </Action>
  );
}

function RunTable({ runs, verb }: { runs: readonly RunSummary[]; verb: string }) {
  return (
    <table className="runs-table">
      <thead>
        <tr>
          <th scope="col" className="runs-further">
            Run
          </th>
          <th scope="col">Part</th>
          <th scope="col">Lot</th>
          <th scope="col">Measured</th>
          <th scope="col" className="runs-further">
            Nonconforming
          </th>
          <th scope="col">Stands at</th>
          <th scope="col" className="runs-further">
            Received
          </th>
          <td />
        </tr>
      </thead>
      <tbody>
        {runs.map((run) => (
          <tr key={run.run}>
            <td className="figures runs-further">{run.run}</td>
            <th scope="row" className="runs-text">
              {run.part}
              {run.simulated && <span className="runs-simulated hatched"> simulated</span>}
            </th>
            <td className="runs-text">
              {run.lot}
              {run.supplier && <span className="quiet small runs-line">{run.supplier}</span>}
            </td>
            <td>
              {formatCount(run.counted)} of {formatCount(run.sampleSize)}
              <progress max={run.sampleSize} value={Math.min(run.counted, run.sampleSize)} aria-hidden="true" />
            </td>
            <td className="figures runs-further">{formatCount(run.nonconforming)}</td>
            <td>{standsAt(run)}</td>
            <td className="runs-further">
              {formatTime(run.receivedAt)}
              <span className="quiet small runs-line">{run.inspector}</span>
            </td>
            <td>
              <Action
                label={`${verb} ${verb === 'Go on' ? 'with ' : ''}lot ${run.lot}, run ${run.run}`}
                onPress={() => goTo({ screen: 'run', run: run.run })}
              >
                {verb}
              </Action>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function standsAt(run: RunSummary) {
  if (run.disposition)
    return <span className={`fate fate-${run.disposition}`}>{DISPOSITION_WORDS[run.disposition]}</span>;
  return STEP_TO_DO[run.step];
}
