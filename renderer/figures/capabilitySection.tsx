import { SIGNIFICANT } from '../../core/drift/reelTrend.ts';
import type { Run } from '../../core/inspection/run.ts';
import type { Index, Indices } from '../../core/statistics/capability.ts';
import type { Outside } from '../../core/statistics/fractionOutside.ts';
import { isRefused, type Refused } from '../../core/statistics/values.ts';
import { type FigureRow, FigureRows, notGiven } from '../figureRows/figureRows.tsx';
import { formatCount } from '../words/count.ts';
import { figureText, indexText, percentText, valueText } from '../words/figures.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { atLeastText, probabilityText } from '../words/probability.ts';
import type { LotFigures } from './lotFigures.ts';

const HANDBOOK = 'ISO 22514-2; e-Handbook 6.1.6';

/** How well the window holds the spread, what share lies outside, and between which values most pieces lie. */
export function CapabilitySection({ run, figures }: { run: Run; figures: LotFigures }) {
  const { shape, capability, trend } = figures.analysis;
  const moves = !isRefused(trend.slope) && !isRefused(trend.mannKendall) && trend.mannKendall.p < SIGNIFICANT;
  // What takes the pieces to be normal says nothing of a lot that is not, or that cannot be told to be.
  const { quoteCapability } = shape;
  return (
    <>
      {!quoteCapability && (
        <p className="look-say">
          Cp, Cpk, Pp, Ppk and all that takes the pieces to be normal are not given. {shape.words}
        </p>
      )}
      {quoteCapability && isRefused(capability) && <p className="look-say">{capability.refused}</p>}
      {quoteCapability && !isRefused(capability) && (
        <>
          {moves && (
            <p className="look-say">
              A trend along the reel is shown: all this holds for the pieces up to the last one measured, not for the
              rest of the reel.
            </p>
          )}
          {capability.notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
          <FigureRows
            rows={[
              ...indexRows(
                'Cp',
                'Cpk',
                capability.within,
                'spread of neighbours: mean moving range / 1.128',
                capability.confidence,
              ),
              ...indexRows('Pp', 'Ppk', capability.overall, 'standard deviation of all', capability.confidence),
              ...(capability.aboutNominal === null
                ? []
                : [
                    {
                      name: 'Cpm',
                      value: indexText(capability.aboutNominal),
                      words: 'about the nominal value instead of the mean',
                      source: 'e-Handbook 6.1.6',
                    },
                  ]),
            ]}
          />
        </>
      )}
      <h3>Share outside the window</h3>
      <FigureRows rows={outsideRows(figures)} />
      <h3>Where most pieces lie</h3>
      <FigureRows rows={toleranceRows(run, figures)} />
    </>
  );
}

function indexRows(
  potential: string,
  actual: string,
  found: Indices | Refused,
  by: string,
  confidence: number,
): FigureRow[] {
  if (isRefused(found)) return [notGiven(`${potential}, ${actual}`, found, HANDBOOK)];
  const row = (name: string, { value, lower, upper }: Index, words: string, source: string): FigureRow => ({
    name,
    value: indexText(value),
    words: `${indexText(lower)} to ${indexText(upper)} with ${percentText(confidence)} confidence; ${words}`,
    source,
  });
  return [
    ...(found.potential
      ? [row(potential, found.potential, `from the ${by}`, `${HANDBOOK}; interval: chi-square`)]
      : []),
    row(actual, found.actual, `to the nearer limit, from the ${by}`, `${HANDBOOK}; interval: Bissell 1990`),
    {
      name: `s behind ${actual}`,
      value: ohmsFigure(found.standardDeviation, { significant: 3 }),
      words: `as good as from ${figureText(found.degreesOfFreedom)} degrees of freedom`,
      ...(actual === 'Cpk' && { source: 'e-Handbook 6.3.2.2.1' }),
    },
  ];
}

function outsideRows({ analysis }: LotFigures): FigureRow[] {
  const { normalOutside, countedOutside, shape } = analysis;
  const rows: FigureRow[] = [];
  if (isRefused(countedOutside)) rows.push(notGiven('Counted', countedOutside));
  else {
    const { total, confidence } = countedOutside;
    rows.push({
      name: 'Counted',
      value: probabilityText(total.share),
      words: `${formatCount(total.count)} outside; of all pieces ${probabilityText(total.lower)} to ${probabilityText(total.upper)} with ${percentText(confidence)} confidence, whatever the distribution`,
      source: 'Clopper and Pearson 1934; e-Handbook 7.2.4.1',
    });
  }
  if (!shape.quoteCapability) return rows;
  if (isRefused(normalOutside)) return [...rows, notGiven('If normal', normalOutside)];
  const { plugIn, nextPiece, notes } = normalOutside;
  return [
    ...rows,
    {
      name: 'If normal',
      value: probabilityText(plugIn.total),
      words: `${sidesText(plugIn)}; as if mean and s were known exactly. ${notes.join(' ')}`,
      source: 'e-Handbook 6.1.6',
    },
    {
      name: 'If normal, the next piece',
      value: probabilityText(nextPiece.total),
      words: `${sidesText(nextPiece)}; mean and s being estimates`,
      source: 'Student’s t; Hahn and Meeker, Statistical Intervals, 1991',
    },
  ];
}

function sidesText({ below, above }: Outside): string {
  return [below !== null && `below ${probabilityText(below)}`, above !== null && `above ${probabilityText(above)}`]
    .filter((text) => text !== false)
    .join(', ');
}

function toleranceRows(run: Run, { analysis }: LotFigures): FigureRow[] {
  const { toleranceInterval: found, summary, shape } = analysis;
  if (isRefused(found)) return [notGiven('Tolerance interval', found)];
  const spread = isRefused(summary) ? null : summary.standardDeviation;
  const value = (ohms: number) => valueText(ohms, run.window, spread);
  const { coverage, confidence, twoSided, oneSided, betweenExtremes, notes } = found;
  const sure = `with ${percentText(confidence)} confidence`;
  const free: FigureRow = {
    name: 'Lowest to highest',
    value: `${value(betweenExtremes.lower)} to ${value(betweenExtremes.upper)}`,
    words: `${atLeastText(betweenExtremes.coverage)} of all pieces at least, ${sure}, whatever the distribution. ${notes.join(' ')}`,
    source: 'Wilks 1941; ISO 16269-6',
  };
  if (!shape.quoteCapability) return [free];
  return [
    {
      name: 'If normal, between',
      value: `${value(twoSided.lower)} to ${value(twoSided.upper)}`,
      words: `${percentText(coverage)} of all pieces, ${sure}: mean ± ${figureText(twoSided.factor)} s`,
      source: 'Howe 1969; e-Handbook 7.2.6.3',
    },
    {
      name: 'If normal, one side',
      value: `above ${value(oneSided.lower)}, or below ${value(oneSided.upper)}`,
      words: `${percentText(coverage)} of all pieces, ${sure}: each alone, mean ∓ ${figureText(oneSided.factor)} s`,
      source: 'ISO 16269-6; e-Handbook 7.2.6.3',
    },
    free,
  ];
}
