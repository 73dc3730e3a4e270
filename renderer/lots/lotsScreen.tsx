import { lazy, Suspense } from 'react';
import type { LotFigures } from '../../core/contract/contract.ts';
import { LEAST_EARLIER, type LotToLot, lotToLot } from '../../core/drift/lotToLot.ts';
import { isPractice, type Run } from '../../core/inspection/run.ts';
import type { Outcome } from '../../core/readiness/check.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WorkBar } from '../controls/workBar.tsx';
import { SimulatedMark } from '../lotCard/lotCard.tsx';
import { OutcomeMark } from '../outcome/outcomeMark.tsx';
import { PrintAction } from '../print/printAction.tsx';
import { Block, Sheet } from '../sheet/sheet.tsx';
import { useAnswer } from '../station/useAnswer.ts';
import { formatCount } from '../words/count.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { formatTime } from '../words/time.ts';
import './lotsScreen.css';

const Charts = lazy(() => import('./lotsCharts.tsx'));

/** Digits that tell means of lots apart, more than a meter gives. */
const MEAN_DIGITS = 7;

/** All lots of this part from this supplier up to this one, and whether it belongs with them. */
export default function LotsScreen({ number, run, back }: { number: number; run: Run; back: () => void }) {
  const { found, work, again } = useAnswer('lot-history', { run: number });
  const history = found && 'answer' in found ? lotsUpTo(found.answer, number) : null;
  const from = run.lot.supplier === '' ? '' : ` from ${run.lot.supplier}`;
  return (
    <Sheet
      title={`Lots of ${run.part.number}${from}`}
      aside={
        <div className="actions">
          <PrintAction />
          <Action primary keyName="Escape" onPress={back}>
            Back
          </Action>
        </div>
      }
    >
      {isPractice(run) && <SimulatedMark where="measure" />}
      <ProblemNotice problem={found && 'problem' in found ? found.problem : null} />
      <WorkBar
        work={work}
        words="Comparing the lots"
        stoppedWords="Stopped. The lots were not compared."
        escapeLeaves
      />
      {work.stopped && (
        <div className="actions">
          <Action onPress={again}>Compare the lots</Action>
        </div>
      )}
      {run.plan.choice.kind === 'study' ? (
        <p>A study of the measurement is no lot: there is nothing to compare it with.</p>
      ) : (
        (history && <History lots={history} of={number} />) ||
        (!found && <p role="status">Looking for the lots of this part …</p>)
      )}
    </Sheet>
  );
}

/** The lots received up to this one, which is the last. */
function lotsUpTo(history: readonly LotFigures[], run: number): readonly LotFigures[] {
  const own = history.findIndex((lot) => lot.run === run);
  return history.slice(0, own + 1);
}

function History({ lots, of }: { lots: readonly LotFigures[]; of: number }) {
  const compared = lotToLot(
    lots.map(({ lot, count, leftOut, meanOhms, standardDeviationOhms }) => ({
      label: lot,
      n: count,
      leftOut,
      meanOhms,
      standardDeviationOhms,
    })),
  );
  return (
    <>
      <Block
        title="Does this lot belong?"
        source="Limits from the earlier lots alone: their means as single values, ± 3 mean moving ranges / 1.128; moving average of the means, λ = 0.3, three standard deviations; standard deviation against the pooled one, B3 and B4 for its n. NIST/SEMATECH e-Handbook 6.3.2.1, 6.3.2.2, 6.3.2.4."
      >
        <p className="lots-say">
          <OutcomeMark {...outcomeOf(compared)} /> <span>{compared.words}</span>
        </p>
        {lots.length <= LEAST_EARLIER && (
          <p>
            It takes {LEAST_EARLIER} earlier lots. Every lot that is received here with this part number and this
            supplier counts for those that come after it.
          </p>
        )}
        {compared.notes.length > 0 && (
          <ul className="block-notes">
            {compared.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        )}
      </Block>
      {compared.points.length > 0 && (
        <Block title="Means and spreads, lot by lot">
          <Suspense fallback={<div className="lots-charts" aria-busy="true" />}>
            <Charts compared={compared} />
          </Suspense>
        </Block>
      )}
      <Block title="Every lot" wide>
        <LotsTable lots={lots} of={of} />
      </Block>
    </>
  );
}

function outcomeOf({ belongs }: LotToLot): { outcome: Outcome; words: string } {
  if (belongs === null) return { outcome: 'waived', words: 'Not known' };
  return belongs ? { outcome: 'passed', words: 'Belongs' } : { outcome: 'failed', words: 'Does not belong' };
}

function LotsTable({ lots, of }: { lots: readonly LotFigures[]; of: number }) {
  const like = lots.findLast(({ meanOhms }) => meanOhms !== null)?.meanOhms ?? 1;
  const spread =
    lots.findLast(({ standardDeviationOhms }) => standardDeviationOhms !== null)?.standardDeviationOhms ?? 1;
  return (
    <table className="lots-table">
      <thead>
        <tr>
          <th scope="col" className="figures">
            Run
          </th>
          <th scope="col">Lot</th>
          <th scope="col">Received</th>
          <th scope="col" className="figures">
            Readings
          </th>
          <th scope="col" className="figures">
            Mean
          </th>
          <th scope="col" className="figures">
            Standard deviation
          </th>
          <th scope="col">Disposition</th>
        </tr>
      </thead>
      <tbody>
        {lots.toReversed().map((lot) => (
          <tr key={lot.run} className={lot.run === of ? 'lots-own' : undefined}>
            <td className="figures">{lot.run}</td>
            <th scope="row">
              {lot.lot}
              {lot.run === of && <span className="quiet"> (this one)</span>}
            </th>
            <td>{formatTime(lot.receivedAt)}</td>
            <td className="figures">
              {formatCount(lot.count)}
              {lot.leftOut > 0 && <span className="quiet"> and {formatCount(lot.leftOut)} left out</span>}
            </td>
            <td className="figures">
              {lot.meanOhms === null ? 'no value' : ohmsFigure(lot.meanOhms, { significant: MEAN_DIGITS, like })}
            </td>
            <td className="figures">
              {lot.standardDeviationOhms === null ? '' : ohmsFigure(lot.standardDeviationOhms, { like: spread })}
            </td>
            <td>{lot.disposition === null ? 'not decided' : DISPOSITION_WORDS[lot.disposition]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
