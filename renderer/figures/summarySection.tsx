import type { Run } from '../../core/inspection/run.ts';
import { isRefused } from '../../core/statistics/values.ts';
import { type FigureRow, FigureRows, notGiven } from '../figureRows/figureRows.tsx';
import { counted, formatCount } from '../words/count.ts';
import { percentText, valueText } from '../words/figures.ts';
import { deviationText } from '../words/ohms.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { numberedPieces } from '../words/pieces.ts';
import type { LotFigures } from './lotFigures.ts';

/** Number, mean, spread, ends and percentiles. */
export function SummarySection({ run, figures }: { run: Run; figures: LotFigures }) {
  const { window } = run;
  const { overloads, analysis } = figures;
  const { summary, percentiles } = analysis;
  if (isRefused(summary)) {
    return <p>No reading with a value counts yet. The figures come with the readings, one by one.</p>;
  }
  const { n, mean, standardDeviation, lowest, highest, range } = summary;
  const value = (ohms: number) => valueText(ohms, window, standardDeviation);
  const rows: FigureRow[] = [
    {
      name: 'Readings',
      value: formatCount(n),
      words: [
        'that count and have a value',
        overloads.length > 0 && `; overload, in no figure below: ${numberedPieces(overloads)}`,
        run.tally.suspect > 0 && `; suspect and left out: ${counted(run.tally.suspect, 'reading', 'readings')}`,
      ]
        .filter((text) => text !== false)
        .join(''),
    },
    {
      name: 'Mean',
      value: value(mean),
      words: deviationText(String(mean), window),
      source: 'e-Handbook 1.3.5.1',
    },
    standardDeviation === null
      ? notGiven('Standard deviation, s', { refused: 'One reading has no spread.' })
      : {
          name: 'Standard deviation, s',
          value: ohmsFigure(standardDeviation, { significant: 3 }),
          words:
            standardDeviation === 0 ? 'all readings are equal: the spread is below what the meter shows' : `with n − 1`,
          source: 'e-Handbook 1.3.5.6',
        },
    { name: 'Lowest and highest', value: `${value(lowest)} and ${value(highest)}` },
    { name: 'Range', value: ohmsFigure(range), source: 'e-Handbook 1.3.5.6' },
  ];
  return (
    <>
      <FigureRows rows={rows} />
      <h3>Percentiles</h3>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen the table is wider and moves by the arrow keys */}
      <section className="look-table" aria-label="Percentiles" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">Share of the readings below</th>
              {percentiles.map(({ share }) => (
                <th key={share} scope="col">
                  {percentText(share)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">Value</th>
              {percentiles.map(({ share, value: at }) => (
                <td key={share} className="figures">
                  {value(at)}
                </td>
              ))}
            </tr>
          </tbody>
        </table>
      </section>
      <p className="quiet small">
        Percentiles by definition 7 of Hyndman and Fan, The American Statistician 50 (1996).
      </p>
    </>
  );
}
