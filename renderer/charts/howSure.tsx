import { lazy, Suspense } from 'react';
import { chanceOfAcceptance, qualityAccepted, TABULATED } from '../../core/sampling/oc.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { figureText } from '../words/figures.ts';
import { ChartFrame } from './chartFrame.tsx';
import { ChartTable } from './chartTable.tsx';
import './charts.css';

const Curve = lazy(() => import('./planCurve.tsx'));

const perCent = (share: number) => `${figureText(100 * share)}\u00a0%`;

/** What a plan lets pass and what it stops, behind a summary: in a sentence, as a curve and as a table. */
export function HowSure({ plan }: { plan: Plan }) {
  if (plan.choice.kind === 'study') return null;
  return (
    <div className="how-sure">
      <ChartTable title="How sure is this plan">{() => <Sureness plan={plan} />}</ChartTable>
    </div>
  );
}

function Sureness({ plan }: { plan: Plan }) {
  if (plan.everyPiece) {
    return <p>Every piece is measured: nothing is left to chance but the measurement itself.</p>;
  }
  const { choice } = plan;
  const aql = choice.kind === 'aql' ? Number(choice.aql) / 100 : null;
  return (
    <>
      <p>
        {aql !== null &&
          `Of lots with just ${perCent(aql)} nonconforming pieces it accepts ${perCent(chanceOfAcceptance(plan, aql))}. `}
        Of lots with {perCent(qualityAccepted(plan, 0.5))} it accepts half; of lots with{' '}
        {perCent(qualityAccepted(plan, 0.1))} still one in ten.
      </p>
      <ChartFrame
        title="Lots accepted, by how many of their pieces do not conform (operating characteristic)"
        table={<ChartTable title="Curve as a table">{() => <Tabulated plan={plan} />}</ChartTable>}
      >
        <Suspense fallback={<div className="chart-drawing" aria-busy="true" />}>
          <Curve plan={plan} />
        </Suspense>
      </ChartFrame>
      <p className="quiet small">
        By the binomial distribution (MIL-STD-105E, 4.11 and Tables X), as if lots came from one process. Where the
        sample is more than about a tenth of the lot the plan is somewhat surer than this.
      </p>
    </>
  );
}

function Tabulated({ plan }: { plan: Plan }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Nonconforming pieces</th>
          <th scope="col">Lots accepted</th>
        </tr>
      </thead>
      <tbody>
        {TABULATED.map((chance) => (
          <tr key={chance}>
            <td className="figures">{perCent(qualityAccepted(plan, chance))}</td>
            <td className="figures">{perCent(chance)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
