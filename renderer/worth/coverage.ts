import type { Budget } from '../../core/uncertainty/budget.ts';
import type { FigureRow } from '../figureRows/figureRows.tsx';
import { figureText } from '../words/figures.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { uncertaintyText } from '../words/uncertainty.ts';
import { freedomText } from './budgetTable.tsx';

/** How U is made of the lines of a budget, step by step with the clause of each. */
export function coverageRows(
  budget: Budget,
  uncertainty: { expandedOhms: string; coverageFactor: string },
): FigureRow[] {
  const { combinedOhms, effectiveDegreesOfFreedom: freedom, coverageProbability, coverageFactor } = budget;
  return [
    {
      name: 'Combined, u',
      value: ohmsFigure(combinedOhms, { significant: 3, like: budget.expandedOhms }),
      words: 'the root of the sum of the squares of all contributions',
      source: 'JCGM 100:2008, 5.1.2, equation 10',
    },
    {
      name: 'Effective degrees of freedom',
      value: freedomText(freedom),
      words:
        freedom === null
          ? 'no line was found from a few readings alone'
          : 'u⁴ over the sum of each contribution⁴ / its degrees of freedom (Welch-Satterthwaite)',
      source: 'JCGM 100:2008, G.4.1, equation G.2b',
    },
    {
      name: 'Coverage factor, k',
      value: coverageFactor.toFixed(2),
      words: `for ${figureText(coverageProbability * 100, 4)}\u00a0% ${
        freedom === null ? 'of a normal distribution' : 'of a t-distribution, degrees of freedom rounded down'
      }`,
      source: 'JCGM 100:2008, G.3 and Table G.2; EA-4/02 M:2022, 5',
    },
    {
      name: 'Expanded, U = k · u',
      value: uncertaintyText(uncertainty),
      words: 'rounded up to two figures',
      source: 'JCGM 100:2008, 6.2.1 and 7.2.6',
    },
  ];
}
