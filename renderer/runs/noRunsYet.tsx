import type { ReactNode } from 'react';
import { STEP_WORDS, STEPS } from '../words/steps.ts';
import './noRunsYet.css';

const WHAT_IS_DONE: Record<(typeof STEPS)[number], string> = {
  receive: 'Say what the lot claims to be. The window and the number of pieces to measure follow from it.',
  ready: 'Connect the meter and confirm the bench.',
  measure: 'Put one piece after the other on the probes. You see and hear each verdict at once.',
  decide: 'Accept the lot or not, as its plan says, or put it on hold.',
  certify: 'Write a certificate that somebody else can check.',
};

/** The start page before the first lot: the way through the job, where it begins, and what else there is. */
export function NoRunsYet({ receive, besides }: { receive: ReactNode; besides: ReactNode }) {
  return (
    <div className="no-runs">
      <div className="no-runs-start">
        <h1>No runs yet</h1>
        <p className="no-runs-what">A run takes one lot of resistors from its arrival to its certificate.</p>
        <p className="quiet">An example lot and a simulated bench are there to try it on.</p>
        {receive}
        {besides}
      </div>
      <ol className="no-runs-way" aria-label="Steps of the job">
        {STEPS.map((step) => (
          <li key={step}>
            <h2>{STEP_WORDS[step]}</h2>
            <p className="quiet">{WHAT_IS_DONE[step]}</p>
          </li>
        ))}
      </ol>
    </div>
  );
}
