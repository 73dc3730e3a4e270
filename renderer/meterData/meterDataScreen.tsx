import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { identityWords } from '../words/measurement.ts';
import { draftOf, EMPTY_METER_DATA, type MeterDataDraft, readMeterData } from './meterDataDraft.ts';
import { RangeTable } from './rangeTable.tsx';
import './meterData.css';

type TextFieldName = Exclude<keyof MeterDataDraft, 'ranges'>;

/** Accuracy and calibration of the meter of a run, as its manual and its calibration certificate print them. */
export function MeterDataScreen(props: { number: number; run: Run; card: ReactNode; onClose: () => void }) {
  const { number, run, onClose } = props;
  const { line, up } = useStation();
  const [draft, setDraft] = useState<MeterDataDraft | null>(null);
  const [tried, setTried] = useState(false);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const form = useRef<HTMLFormElement>(null);

  useEffect(() => {
    if (!up) return;
    line.ask('meter-data', { run: number }).then(
      ({ data }) => setDraft((before) => before ?? (data ? draftOf(data) : EMPTY_METER_DATA)),
      (thrown) => setProblem(asProblem(thrown)),
    );
  }, [line, up, number]);

  async function save() {
    if (!draft || busy) return;
    setTried(true);
    setProblem(null);
    const { data } = readMeterData(draft);
    if (!data) {
      // After the problems are on the screen, so that the first of them is read out with its field.
      requestAnimationFrame(() => form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus());
      return;
    }
    setBusy(true);
    try {
      await line.ask('save-meter-data', { run: number, data });
      onClose();
    } catch (thrown) {
      setProblem(asProblem(thrown));
    } finally {
      setBusy(false);
    }
  }

  const problems = draft && tried ? readMeterData(draft).problems : {};
  const field = (name: TextFieldName) => ({
    name,
    value: draft?.[name] ?? '',
    onChange: (value: string) => setDraft((before) => before && { ...before, [name]: value }),
    problem: problems[name],
  });

  return (
    <StepPage step="ready" title="Accuracy and calibration" card={props.card}>
      {run.meter && (
        <p className="meter-data-of">
          Of {identityWords(run.meter.identity)}, serial number {run.meter.identity.serial || 'not told'}. Kept for this
          meter and used again whenever it is connected.
        </p>
      )}
      {draft && (
        <form
          ref={form}
          className="meter-data"
          noValidate
          onSubmit={(event) => {
            event.preventDefault();
            save();
          }}
        >
          <fieldset>
            <legend>Its calibration certificate</legend>
            <div className="meter-data-fields">
              <TextField label="Calibrated on" {...field('date')} hint="like 2026-11-25" required autoFocus />
              <TextField label="Due on" {...field('due')} hint="the last day it counts" required />
              <TextField label="Certificate number" {...field('certificate')} required />
              <TextField label="Calibrated by" {...field('by')} />
            </div>
          </fieldset>
          <fieldset>
            <legend>Limits of error, as its manual prints them</legend>
            <div className="meter-data-fields">
              <TextField
                label="Hold for, days from calibration"
                {...field('validDays')}
                inputMode="numeric"
                hint="365 for a one-year column"
                required
              />
              <TextField
                label="Ambient from, °C"
                {...field('lowest')}
                inputMode="decimal"
                hint="18 where it says 23 ± 5"
                required
              />
              <TextField
                label="Ambient to, °C"
                {...field('highest')}
                inputMode="decimal"
                hint="28 where it says 23 ± 5"
                required
              />
            </div>
          </fieldset>
          <RangeTable
            ranges={draft.ranges}
            problems={problems}
            onChange={(ranges) => setDraft((before) => before && { ...before, ranges })}
          />
          <ProblemNotice problem={problem} />
          <div className="actions">
            <Action primary submits keyName="Enter" disabled={busy}>
              {busy ? 'Keeping it …' : 'Keep for this meter'}
            </Action>
            <Action keyName="Escape" onPress={onClose}>
              Back without a change
            </Action>
            <p className="quiet small">
              The meter is connected anew with it, and the bench is checked from the beginning.
            </p>
          </div>
        </form>
      )}
      {!draft && <ProblemNotice problem={problem} />}
    </StepPage>
  );
}
