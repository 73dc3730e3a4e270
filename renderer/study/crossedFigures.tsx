import {
  type Component,
  type CrossedStudy,
  POOLING_RULE,
  type Source,
  type VarianceRow,
} from '../../core/study/crossed.ts';
import { TOLERANCE_RULE } from '../../core/study/shareOfTolerance.ts';
import { degrees, figure } from '../../core/study/studyFormat.ts';
import { shown, shownP } from '../../core/study/words.ts';
import { Block } from '../sheet/sheet.tsx';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { ShareBar } from './shareBar.tsx';

const COMPONENTS: Record<Component['source'], { words: string; depth: number }> = {
  gauge: { words: 'Gauge: repeatability and reproducibility', depth: 0 },
  repeatability: { words: 'Repeatability', depth: 1 },
  reproducibility: { words: 'Reproducibility', depth: 1 },
  operator: { words: 'Operators', depth: 2 },
  interaction: { words: 'Operators with pieces', depth: 2 },
  piece: { words: 'Pieces', depth: 0 },
  total: { words: 'All together', depth: 0 },
};

const SOURCES: Record<Source, string> = {
  piece: 'Pieces',
  operator: 'Operators',
  interaction: 'Pieces with operators',
  repeatability: 'Repeatability',
  total: 'All together',
};

/** The figures of a crossed study: components and their shares, what the gauge tells apart, the table of variance. */
export function CrossedFigures({ study }: { study: CrossedStudy }) {
  const { components, gaugeInterval, distinctCategories, categoriesExact, table, pooledTable } = study;
  const like = Math.max(...components.map(({ sdOhms }) => sdOhms));
  const hasTolerance = components.some(({ percentOfTolerance }) => percentOfTolerance !== null);
  return (
    <>
      <Block
        title="Components"
        source={
          <>
            Two-way analysis of variance, pieces and operators at random: Houf and Berman 1988; Montgomery, Introduction
            to Statistical Quality Control, gauge capability. {POOLING_RULE}. {TOLERANCE_RULE}. Shares of s do not add
            up to 100&nbsp;%.
          </>
        }
      >
        <table className="components">
          <thead>
            <tr>
              <th scope="col">Component</th>
              <th scope="col" className="figures">
                Standard deviation s
              </th>
              <th scope="col">Share of variance</th>
              <th scope="col">Share of s of all</th>
              {hasTolerance && <th scope="col">Share of tolerance</th>}
            </tr>
          </thead>
          <tbody>
            {components.map((component) => (
              <tr key={component.source}>
                <th scope="row" className={`component-depth-${COMPONENTS[component.source].depth}`}>
                  {COMPONENTS[component.source].words}
                </th>
                <td className="figures">{ohmsFigure(component.sdOhms, { like })}</td>
                <td>
                  <ShareBar percent={component.percentOfVariance} />
                </td>
                <td>
                  <ShareBar percent={component.percentOfStudyVariation} />
                </td>
                {hasTolerance && (
                  <td>
                    <ShareBar percent={component.percentOfTolerance} />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </Block>
      <div className="block-pair">
        <Block
          title="How well s of the gauge is known"
          source="95 % interval by modified large samples: Graybill and Wang 1980; Burdick, Borror and Montgomery 2005."
        >
          <p>
            Between <strong className="figures">{ohmsFigure(gaugeInterval.lowerOhms, { like })}</strong> and{' '}
            <strong className="figures">{ohmsFigure(gaugeInterval.upperOhms, { like })}</strong>.
          </p>
        </Block>
        <Block
          title="Distinct categories"
          source="1.41 × s of pieces / s of the gauge, cut to a whole number, at least 1 (common practice)."
        >
          <p>
            <strong className="figures">{distinctCategories}</strong>{' '}
            <span className="quiet">({(Math.floor(categoriesExact * 10) / 10).toFixed(1)} before it is cut)</span>
          </p>
        </Block>
      </div>
      <Block
        title="Table of variance"
        source="Pieces and operators are tested against the interaction, the interaction against repeatability; in the pooled table all against the pooled repeatability. Houf and Berman 1988; Montgomery."
      >
        <VarianceTable caption="With the interaction as a row of its own" rows={table} />
        {pooledTable && <VarianceTable caption="With the interaction counted to repeatability" rows={pooledTable} />}
      </Block>
    </>
  );
}

function VarianceTable({ caption, rows }: { caption: string; rows: readonly VarianceRow[] }) {
  return (
    <table className="variance">
      <caption className="small quiet">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Source</th>
          <th scope="col" className="figures">
            Degrees of freedom
          </th>
          <th scope="col" className="figures">
            Sum of squares, Ω²
          </th>
          <th scope="col" className="figures">
            Mean square, Ω²
          </th>
          <th scope="col" className="figures">
            F
          </th>
          <th scope="col" className="figures">
            p
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ source, df, sumOfSquares, meanSquare, f, p }) => (
          <tr key={source}>
            <th scope="row">{SOURCES[source]}</th>
            <td className="figures">{degrees(df)}</td>
            <td className="figures">{figure(sumOfSquares)}</td>
            <td className="figures">{figure(meanSquare)}</td>
            <td className="figures">{f === null ? '' : shown(f)}</td>
            <td className="figures">{p === null ? '' : shownP(p).replace(/^p (= )?/, '')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
