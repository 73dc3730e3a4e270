import { type ReactNode, useLayoutEffect, useRef } from 'react';
import type { Step } from '../core/inspection/run.ts';
import { STEP_WORDS, STEPS } from './words/steps.ts';
import './stepPage.css';

/** A step of the job: the lot's card at the side, the way through the job above, and the step itself. */
export function StepPage(props: {
  step: Step | 'receive';
  title: string;
  card: ReactNode;
  children: ReactNode;
  /** Stands beside the title. */
  aside?: ReactNode;
  /** The title is said but not shown, where the room is needed. */
  unseenTitle?: boolean;
}) {
  const { step, title } = props;
  const heading = useRef<HTMLHeadingElement>(null);

  // Each step begins at its heading, unless one of its fields has taken the focus already.
  // biome-ignore lint/correctness/useExhaustiveDependencies: on every new step
  useLayoutEffect(() => {
    document.title = `${title} · Reelohm`;
    const focused = document.activeElement;
    if (!focused || focused === document.body) heading.current?.focus();
  }, [step, title]);

  // The step before may have been scrolled; a step that begins further down goes there after this.
  // biome-ignore lint/correctness/useExhaustiveDependencies: on every new step
  useLayoutEffect(() => {
    window.scrollTo(0, 0);
  }, [step]);

  return (
    <div className="step-page">
      <div className="step-page-step">
        <Way step={step} />
        <main className={`step step-${step}`}>
          <div className={props.unseenTitle ? 'unseen' : 'step-head'}>
            <h1 ref={heading} tabIndex={-1}>
              {title}
            </h1>
            {props.aside}
          </div>
          {props.children}
        </main>
      </div>
      <aside className="step-page-card" aria-label="The lot so far">
        {props.card}
      </aside>
    </div>
  );
}

/** The five steps as notches on a line, the one at hand marked: the same figure as the window bar. */
function Way({ step }: { step: (typeof STEPS)[number] }) {
  const now = STEPS.indexOf(step);
  return (
    <nav className="way" aria-label="Steps of the job">
      <ol>
        {STEPS.map((name, index) => (
          <li
            key={name}
            className={index < now ? 'way-done' : index === now ? 'way-now' : 'way-ahead'}
            aria-current={index === now ? 'step' : undefined}
          >
            {STEP_WORDS[name]}
            {index < now && <span className="unseen">, done</span>}
          </li>
        ))}
      </ol>
    </nav>
  );
}
