import type { Run } from '../../core/inspection/run.ts';
import type { ExtremeDeviates } from '../../core/statistics/extremeDeviates.ts';
import { isRefused } from '../../core/statistics/values.ts';
import { type FigureRow, FigureRows, notGiven } from '../figureRows/figureRows.tsx';
import { figureText, percentText, pText, valueText } from '../words/figures.ts';
import { numberedPieces } from '../words/pieces.ts';
import { type LotFigures, piecesWith } from './lotFigures.ts';

/** Below this a p-value is taken to speak against a normal lot. Common practice. */
const SIGNIFICANT = 0.05;
const ESD = 'Rosner 1983; e-Handbook 1.3.5.17.3';

/** Whether the readings look normal, and which stand apart. */
export function OutliersSection({ run, figures }: { run: Run; figures: LotFigures }) {
  const { extremeDeviates } = figures.analysis;
  return (
    <>
      <FigureRows rows={[normalRow(figures), grubbsRow(run, figures), deviatesRow(figures)]} />
      {!isRefused(extremeDeviates) && <StagesTable run={run} figures={figures} found={extremeDeviates} />}
      <p>An outlier is looked into and never left out: its reading counts until somebody voids it with a reason.</p>
    </>
  );
}

function normalRow({ analysis: { andersonDarling: test } }: LotFigures): FigureRow {
  const name = 'Normality, Anderson-Darling';
  const source = 'D’Agostino and Stephens 1986, table 4.9';
  if (isRefused(test)) return notGiven(name, test, source);
  const { adjusted, pValue, aSquared, notes } = test;
  const says =
    pValue < SIGNIFICANT ? 'the readings do not look normal' : 'nothing speaks against a normal distribution';
  return {
    name,
    value: `p ${pValue < 0.001 ? '' : '= '}${pText(pValue)}`,
    words: `${says}; A² ${figureText(aSquared)}, adjusted ${figureText(adjusted)}. ${notes.join(' ')}`.trim(),
    source,
  };
}

function grubbsRow(run: Run, figures: LotFigures): FigureRow {
  const { grubbs: test, summary } = figures.analysis;
  const name = 'Furthest reading, Grubbs';
  const source = 'Grubbs 1969; e-Handbook 1.3.5.17.1';
  if (isRefused(test) || isRefused(summary)) {
    return isRefused(test) ? notGiven(name, test, source) : { name, words: 'Not given.' };
  }
  const { twoSided, significance, notes } = test;
  const which = numberedPieces(piecesWith(figures, [twoSided.value]));
  const verdict = twoSided.outlier ? 'an outlier' : 'no outlier';
  return {
    name,
    value: valueText(twoSided.value, run.window, summary.standardDeviation),
    words:
      `${which}: ${verdict}; G ${figureText(twoSided.statistic)} against ${figureText(twoSided.critical)} at ${percentText(significance)}. ${notes.join(' ')}`.trim(),
    source,
  };
}

function deviatesRow(figures: LotFigures): FigureRow {
  const { extremeDeviates: found } = figures.analysis;
  const name = 'Several outliers';
  if (isRefused(found)) return notGiven(name, found, ESD);
  const { outliers, significance, notes } = found;
  return {
    name,
    value: outliers.length === 0 ? 'none' : String(outliers.length),
    words: [
      outliers.length > 0 && `${numberedPieces(piecesWith(figures, outliers))}.`,
      `Generalised extreme Studentized deviates at ${percentText(significance)}.`,
      ...notes,
    ]
      .filter((text) => text !== false)
      .join(' '),
    source: ESD,
  };
}

/** Stage by stage: the readings furthest out, as far as any of them is an outlier, and one more to compare. */
function StagesTable({ run, figures, found }: { run: Run; figures: LotFigures; found: ExtremeDeviates }) {
  const { summary } = figures.analysis;
  const spread = isRefused(summary) ? null : summary.standardDeviation;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen the table is wider and moves by the arrow keys
    <section className="look-table" aria-label="Stages of the test for several outliers" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">Stage</th>
            <th scope="col">Value</th>
            <th scope="col">Pieces with it</th>
            <th scope="col">R</th>
            <th scope="col">λ</th>
            <th scope="col">Outlier</th>
          </tr>
        </thead>
        <tbody>
          {found.stages.slice(0, found.outliers.length + 1).map(({ value, statistic, critical }, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: stages do not move, and values may repeat
            <tr key={index}>
              <th scope="row">{index + 1}</th>
              <td className="figures">{valueText(value, run.window, spread)}</td>
              <td>{numberedPieces(piecesWith(figures, [value]))}</td>
              <td className="figures">{figureText(statistic)}</td>
              <td className="figures">{figureText(critical)}</td>
              <td>{index < found.outliers.length ? 'yes' : 'no'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
