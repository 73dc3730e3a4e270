import { useLayoutEffect, useRef } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { totalOf } from '../../core/practice/practisedRun.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { Action } from '../controls/action.tsx';
import { goTo } from '../route.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';

/** The debrief of an exercise: its points with their reasons, what it was, and what to remember. */
export function DebriefShown(props: {
  scored: NonNullable<Run['practised']['scored']>;
  asks: 'piece' | 'operator' | null;
  /** It was had just now: whoever asked for it is led there. */
  fresh: boolean;
}) {
  const heading = useRef<HTMLHeadingElement>(null);
  const { fresh } = props;
  useLayoutEffect(() => {
    if (fresh) heading.current?.focus();
  }, [fresh]);
  const { scored, asks } = props;
  const total = totalOf(scored);
  const right = scored.dispositions
    .map((one) => DISPOSITION_WORDS[one as keyof typeof DISPOSITION_WORDS])
    .join(', or ');
  return (
    <div className="practice-debrief">
      <h2 ref={heading} tabIndex={-1}>
        Debrief
      </h2>
      <p className="practice-total figures">
        {total?.points} of {total?.of} points
      </p>
      <p>
        <strong>It was: {scored.causes.join(', or ')}</strong>
        {asks && scored.which.length > 0 && ` (${asks} ${scored.which.join(' or ')})`}. Right for the lot: {right}.
      </p>
      <p>{scored.explained}</p>
      <table>
        <thead>
          <tr>
            <th scope="col">For</th>
            <th scope="col">Points</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {scored.marks.map(({ mark, points, of, why }) => (
            <tr key={mark}>
              <th scope="row">{capital(mark)}</th>
              <td className="figures">
                {points} of {of}
              </td>
              <td>{capital(why)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="actions">
        <Action primary onPress={() => goTo({ screen: 'practice' })}>
          Back to the practice tray
        </Action>
      </div>
    </div>
  );
}
