import { type ReactNode, useEffect, useState } from 'react';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { prepareCharts } from '../charts/chartsLater.tsx';
import { Action } from '../controls/action.tsx';
import { TickField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField } from '../controls/whoAndWhy.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { identityWords, leadsCount, settingWords } from '../words/measurement.ts';
import { MeterChoice } from './meterChoice.tsx';
import './readyScreen.css';

/** Getting the bench ready: the meter, its settings as it reports them, and the cautions. */
export function ReadyScreen({ number, run, card }: { number: number; run: Run; card: ReactNode }) {
  const { link } = useStation();
  const here = link.state === 'connected' && link.run === number;
  const [other, setOther] = useState(false);
  useEffect(prepareCharts, []);
  const connected = here && run.meter !== null && !other;

  return (
    <StepPage step="ready" title="Get the bench ready" card={card}>
      {run.meter && !here && (
        <p className="ready-again">
          The meter of this run is not connected now. Connect it again to go on;{' '}
          {run.tally.counted === 0 ? 'nothing is lost.' : `the ${run.tally.counted} readings so far are kept.`}
        </p>
      )}
      {leadsCount(run.measurement, run.window) && <LeadsHint />}
      {connected && run.meter ? (
        <>
          <Connected meter={run.meter} onOther={() => setOther(true)} />
          <Confirm number={number} run={run} />
        </>
      ) : (
        <MeterChoice number={number} known={run.meter?.address ?? null} onConnected={() => setOther(false)} />
      )}
    </StepPage>
  );
}

function LeadsHint() {
  return (
    <p className="ready-again">
      This is a 2-wire measurement below 100 Ω: the resistance of the leads adds to every reading, often by some tenths
      of an ohm. Use short leads, or receive the lot again with 4-wire.
    </p>
  );
}

function Connected({ meter, onOther }: { meter: NonNullable<Run['meter']>; onOther: () => void }) {
  const { identity } = meter;
  return (
    <section aria-labelledby="ready-meter" className="ready-meter">
      <div className="ready-head">
        <h2 id="ready-meter">The meter answers</h2>
        <Action onPress={onOther}>Choose another meter</Action>
      </div>
      {identity.simulated && <SimulatedMark where="measure" />}
      <dl className="ready-facts">
        <dt>Identity</dt>
        <dd>{identityWords(identity)}</dd>
        <dt>Serial number</dt>
        <dd>
          {identity.serial || 'not told'}, firmware {identity.firmware || 'not told'}
        </dd>
        <dt>Set to</dt>
        <dd>{settingWords(meter.setting)}, as the meter itself reports</dd>
        <dt>Address</dt>
        <dd className="machine">{meter.address}</dd>
      </dl>
    </section>
  );
}

function Confirm({ number, run }: { number: number; run: Run }) {
  const { line } = useStation();
  const [ticked, setTicked] = useState<readonly boolean[]>(CAUTIONS.map(() => false));
  const [by, setBy] = useState(run.inspector);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [tried, setTried] = useState(false);
  const missing = ticked.filter((tick) => !tick).length;

  async function confirm() {
    setTried(true);
    if (missing > 0 || by.trim() === '') return;
    try {
      await line.ask('confirm-bench', { run: number, by, cautions: [...CAUTIONS] });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      className="ready-confirm"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        confirm();
      }}
    >
      <fieldset>
        <legend>Before the first reading, confirm each</legend>
        {CAUTIONS.map((caution, index) => (
          <TickField
            key={caution}
            checked={ticked[index] ?? false}
            autoFocus={index === 0}
            onChange={(checked) => setTicked((before) => before.with(index, checked))}
          >
            {caution}
          </TickField>
        ))}
      </fieldset>
      {tried && missing > 0 && (
        <p className="field-problem" role="alert">
          {missing === 1 ? 'One caution is' : `${missing} cautions are`} not confirmed yet.
        </p>
      )}
      <ProblemNotice problem={problem} />
      <div className="ready-end">
        <WhoField label="Confirmed by" value={by} onChange={setBy} tried={tried} />
        <Action primary submits keyName="Enter">
          Confirm the bench
        </Action>
      </div>
    </form>
  );
}
