import { type ReactNode, useEffect, useState } from 'react';
import type { Entry } from '../../core/contract/contract.ts';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import type { Run } from '../../core/inspection/run.ts';
import { prepareCharts } from '../charts/chartsLater.tsx';
import { Action } from '../controls/action.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { interruptionOf } from '../measure/interruption.ts';
import { MeterDataScreen } from '../meterData/meterDataScreen.tsx';
import { useStation } from '../station/station.tsx';
import { StepPage } from '../stepPage.tsx';
import { counted } from '../words/count.ts';
import { identityWords, settingWords } from '../words/measurement.ts';
import { numberedPieces } from '../words/pieces.ts';
import { formatLater } from '../words/time.ts';
import { Cautions } from './cautions.tsx';
import { CheckList } from './checkList.tsx';
import { MeterChoice } from './meterChoice.tsx';
import { atStake, whyDue } from './whyDue.ts';
import './readyScreen.css';

/** An exercise has its own bench and no other. */
const SIMULATED_BENCH = 'sim:';

/** Getting the bench ready, and showing once more that it is: the meter, the cautions, and the checks in their order. */
export function ReadyScreen(props: {
  number: number;
  run: Run;
  card: ReactNode;
  hold: (entry: Entry) => void;
  /** Back to measuring, where nothing asks for the checks. */
  back: { words: string; go: () => void } | null;
  onPutOnHold: () => void;
}) {
  const { number, run, card } = props;
  const { line, link } = useStation();
  const here = link.state === 'connected' && link.run === number;
  const lost = link.state === 'lost' && link.run === number;
  const [other, setOther] = useState(false);
  const [entering, setEntering] = useState(false);
  useEffect(prepareCharts, []);
  const connected = here && run.meter !== null && !other;
  const measured = run.readings.size > 0;

  if (entering && connected) {
    return <MeterDataScreen number={number} run={run} card={card} onClose={() => setEntering(false)} />;
  }
  return (
    <StepPage step="ready" title={measured ? 'Check the bench again' : 'Get the bench ready'} card={card}>
      <WhyAgain run={run} />
      {lost ? (
        <Lost run={run} />
      ) : connected && run.meter ? (
        <>
          {run.meter.identity.simulated && !run.benchConfirmed && <SimulatedMark where="measure" />}
          {run.benchConfirmed && (
            <CheckList number={number} run={run} hold={props.hold} onEnterMeterData={() => setEntering(true)} />
          )}
          <Connected
            run={run}
            meter={run.meter}
            onOther={() => setOther(true)}
            onEnterMeterData={() => setEntering(true)}
          />
          {!run.benchConfirmed && (
            <Cautions
              cautions={CAUTIONS}
              legend="Before anything is read, confirm each"
              inspector={run.inspector}
              onConfirm={(by) => line.ask('confirm-bench', { run: number, by, cautions: [...CAUTIONS] })}
            />
          )}
        </>
      ) : (
        <>
          {run.meter && !here && (
            <p className="ready-again">
              The meter of this run is not connected now. Connect it again to go on;{' '}
              {measured
                ? `the ${counted(run.readings.size, 'reading', 'readings')} so far are kept.`
                : 'nothing is lost.'}
            </p>
          )}
          <MeterChoice
            number={number}
            known={run.practice ? SIMULATED_BENCH : (run.meter?.address ?? null)}
            onConnected={() => setOther(false)}
          />
        </>
      )}
      {(props.back || measured) && (
        <div className="actions ready-ways">
          {props.back && (
            <Action keyName="m" onPress={props.back.go}>
              {props.back.words}
            </Action>
          )}
          {measured && (
            <Action keyName="h" onPress={props.onPutOnHold}>
              Put the lot on hold
            </Action>
          )}
        </div>
      )}
    </StepPage>
  );
}

/** Why the bench is checked again, what hangs on it, and what is suspect already. */
function WhyAgain({ run }: { run: Run }) {
  const why = whyDue(run);
  const stake = atStake(run);
  const suspect = run.again.length > 0 && run.tally.suspect > 0;
  if (why === null && stake === null && !suspect) return null;
  return (
    <div className="ready-again">
      {why && <p className="ready-why">{why}</p>}
      {stake && <p>{stake}</p>}
      {suspect && (
        <p>
          <strong>To be measured again once the bench is ready:</strong> {numberedPieces(run.again)}.
        </p>
      )}
    </div>
  );
}

/** The line to the meter is lost; the station looks for it. */
function Lost({ run }: { run: Run }) {
  const { line, link } = useStation();
  const why = interruptionOf(run, link);
  if (!why) return null;
  return (
    <div className="problem" role="alert">
      <p>
        <strong>{why.what}.</strong> {why.toDo}
      </p>
      <div className="actions">
        <Action onPress={() => line.ask('release-meter', {}).catch(() => undefined)}>Choose the meter again</Action>
      </div>
    </div>
  );
}

/** The meter that answers: in full before the cautions; in a line, below the checks, while the bench is checked. */
function Connected(props: {
  run: Run;
  meter: NonNullable<Run['meter']>;
  onOther: () => void;
  onEnterMeterData: () => void;
}) {
  const { meter, run } = props;
  const { identity } = meter;
  const facts = (
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
      <dt>Dialect</dt>
      <dd className="machine">{meter.dialect}</dd>
    </dl>
  );
  return (
    <section aria-labelledby="ready-meter" className="ready-meter">
      <div className="ready-head">
        <h2 id="ready-meter">The meter answers</h2>
        <div className="actions">
          {!identity.simulated && <Action onPress={props.onEnterMeterData}>Accuracy and calibration</Action>}
          <Action onPress={props.onOther}>Choose another meter</Action>
        </div>
      </div>
      {run.benchConfirmed ? (
        <>
          <details>
            <summary>
              {identityWords(identity)}, <span className="quiet">{settingWords(meter.setting)}</span>
            </summary>
            {facts}
          </details>
          <p className="quiet small">
            Cautions confirmed by {run.benchConfirmed.by}, {formatLater(run.benchConfirmed.at, run.receivedAt)}. Local
            rules and licensed practice go before anything this program says.
          </p>
        </>
      ) : (
        facts
      )}
    </section>
  );
}
