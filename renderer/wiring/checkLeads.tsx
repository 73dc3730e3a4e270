import { useLayoutEffect, useRef, useState } from 'react';
import { type ContinuityRun, leadCheckDue, nextPoint, unprovenReadings } from '../../core/continuity/continuityRun.ts';
import { LEAD_CHECKS } from '../../core/continuity/leadCheck.ts';
import { pairWords } from '../../core/continuity/point.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { counted } from '../words/count.ts';
import { CHECK_TITLES, CHECK_TO_DO } from './wiringWords.ts';

/** The checks of the leads, one after the other: before the first reading, now and then, and behind the last one. */
export function CheckLeads({ number, run }: { number: number; run: ContinuityRun }) {
  const { line } = useStation();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  const button = useRef<HTMLButtonElement>(null);
  const due = leadCheckDue(run);
  // biome-ignore lint/correctness/useExhaustiveDependencies: at each further check
  useLayoutEffect(() => button.current?.focus(), [due, run.history.size]);
  const hasVolts = run.meter?.measures.includes('dc-volts') ?? false;
  const isByWord = due === 'no-voltage' && !hasVolts;
  const last = run.history.findLast(({ type }) => type === 'continuity-leads-checked');
  const failed = last?.type === 'continuity-leads-checked' && last.outcome === 'failed' ? last : null;
  const unproven = unprovenReadings(run);
  const round = run.round.length === LEAD_CHECKS.length ? [] : run.round;

  async function check() {
    if (busy) return;
    setProblem(null);
    setBusy(true);
    try {
      await line.ask('check-continuity', {
        run: number,
        by: run.inspector,
        check: due,
        ...(isByWord && { word: true as const }),
      });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  const first = run.points[0];
  return (
    <section className="wiring-step" aria-label="Checks of the leads">
      <p>
        {unproven > 0
          ? `${counted(unproven, 'reading was', 'readings were')} taken since the last good checks. ${nextPoint(run) === null ? 'A lead that broke meanwhile would make every open point look good: no decision without these checks.' : 'They count only once the leads have passed again.'}`
          : 'A broken lead makes every open point look good, and a bad one every closed point bad. So the leads are checked before and after.'}
      </p>
      {failed && (
        <div className="problem" role="alert">
          <p>
            <strong>{CHECK_TITLES[failed.check]}: failed.</strong> {failed.why}.
          </p>
        </div>
      )}
      <ol className="wiring-checks">
        {LEAD_CHECKS.map((check) => (
          <li key={check} aria-current={check === due ? 'step' : undefined} className="wiring-check">
            <span className="wiring-check-mark" aria-hidden="true">
              {round.includes(check) ? '✓' : check === due ? '▸' : '·'}
            </span>
            <span>
              <strong>{CHECK_TITLES[check]}</strong>{' '}
              <span className="quiet">{round.includes(check) ? 'passed' : check === due ? '' : 'comes after'}</span>
              {check === due && (
                <span className="wiring-check-to-do">
                  {isByWord
                    ? 'This meter has no DC volts: it is your word that nothing is live there, and the certificate says so.'
                    : CHECK_TO_DO[check]}
                  {check === 'no-voltage' && first && <> First point: {pairWords(first)}.</>}
                </span>
              )}
            </span>
          </li>
        ))}
      </ol>
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action ref={button} primary keyName="Enter" onPress={check} disabled={busy}>
          {busy ? 'Measuring…' : isByWord ? 'Nothing is live, by my word' : `Check: ${CHECK_TITLES[due].toLowerCase()}`}
        </Action>
      </div>
    </section>
  );
}
