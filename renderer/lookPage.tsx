import { type ReactNode, useLayoutEffect, useRef } from 'react';
import { isPractice, type Run } from '../core/inspection/run.ts';
import { Action } from './controls/action.tsx';
import { SimulatedMark } from './lotCard/lotCard.tsx';
import './lookPage.css';

/** A page to look at beside the step of the job: what is looked at, and at its side of which lot, ways within it and the way back. */
export function LookPage(props: {
  number: number;
  run: Run;
  title: string;
  back: () => void;
  children: ReactNode;
  /** Stands at the side, between the lot and the way back. */
  side?: ReactNode;
  /** What the page is for, above the way back. */
  actions?: ReactNode;
}) {
  const { number, run, title, back } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    document.title = `${title} · Reelohm`;
    heading.current?.focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }, [title]);
  return (
    <div className="look-page">
      <main className="look">
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {props.children}
      </main>
      <aside className="look-side" aria-label="Which lot, and the ways from here">
        <div>
          <p className="quiet small">Run {number}</p>
          <p>
            <strong>{run.part.number}</strong>
          </p>
          <p className="small">
            {run.lot.number}
            {run.lot.supplier && <span className="quiet"> from {run.lot.supplier}</span>}
          </p>
        </div>
        {isPractice(run) && <SimulatedMark where="card" />}
        {props.side}
        <div className="actions">
          {props.actions}
          <Action primary={props.actions === undefined} keyName="Escape" onPress={back}>
            Back
          </Action>
        </div>
      </aside>
    </div>
  );
}

/** A part of such a page under its heading, which can be gone to. */
export function LookSection(props: { id: string; title: string; children: ReactNode }) {
  return (
    <section className="look-section" aria-labelledby={props.id}>
      <h2 id={props.id} tabIndex={-1}>
        {props.title}
      </h2>
      {props.children}
    </section>
  );
}
