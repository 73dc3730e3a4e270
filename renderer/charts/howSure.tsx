import { lazy, Suspense } from 'react';
import { TABULATED } from '../../core/sampling/oc.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { type OcBasis, ocBasis, planChance, planQuality } from '../../core/sampling/planOc.ts';
import { chancesSentence } from '../../core/sampling/planWords.ts';
import { figureText } from '../words/figures.ts';
import { ChartFrame } from './chartFrame.tsx';
import { ChartTable } from './chartTable.tsx';
import './charts.css';

const Curve = lazy(() => import('./planCurve.tsx'));

const perCent = (share: number) => `${figureText(100 * share)}\u00a0%`;

/** What a plan lets pass and what it stops: in a sentence, and behind a summary as a curve and as a table. */
export function HowSure({ plan, lotSize }: { plan: Plan; lotSize: number }) {
  if (plan.choice.kind === 'study') return null;
  return (
    <div className="how-sure">
      <p>{chancesSentence(plan, lotSize)}</p>
      {!plan.everyPiece && (
        <ChartTable title="How sure is this plan">{() => <Sureness plan={plan} lotSize={lotSize} />}</ChartTable>
      )}
    </div>
  );
}

const BASIS_WORDS: Record<OcBasis, string> = {
  process:
    'By the binomial distribution (MIL-STD-105E, 4.11 and Tables X), as if lots came from one process. Where the sample is more than about a tenth of the lot the plan is somewhat surer than this.',
  lot: 'By the hypergeometric distribution, exact for a lot of this size.',
  normal:
    'By the noncentral t distribution, of the normal one where the spread is known (ISO 3951-1, MIL-STD-414), for lots that look normal and have their nonconforming pieces beyond one limit.',
};

function Sureness({ plan, lotSize }: { plan: Plan; lotSize: number }) {
  const at = (chance: number) => perCent(planQuality(plan, lotSize, chance));
  return (
    <>
      <p>
        Of lots with {at(HALF)} nonconforming pieces it accepts half; of lots with {at(TENTH)} still one in ten.
      </p>
      <ChartFrame
        title="Lots accepted, by how many of their pieces do not conform (operating characteristic)"
        table={<ChartTable title="Curve as a table">{() => <Tabulated plan={plan} lotSize={lotSize} />}</ChartTable>}
      >
        <Suspense fallback={<div className="chart-drawing" aria-busy="true" />}>
          <Curve plan={plan} lotSize={lotSize} />
        </Suspense>
      </ChartFrame>
      <p className="quiet small">
        {BASIS_WORDS[ocBasis(plan)]}
        {plan.further?.kind === 'attributes' &&
          ' Where the values do not look normal the plan that counts decides, with a curve of its own.'}
      </p>
    </>
  );
}

const [HALF, TENTH] = [0.5, 0.1];

function Tabulated({ plan, lotSize }: { plan: Plan; lotSize: number }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Nonconforming pieces</th>
          <th scope="col">Lots accepted</th>
        </tr>
      </thead>
      <tbody>
        {TABULATED.map((chance) => {
          const quality = planQuality(plan, lotSize, chance);
          return (
            <tr key={chance}>
              <td className="figures">{perCent(quality)}</td>
              <td className="figures">{perCent(planChance(plan, lotSize, quality))}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
