import { TOLERANCE_RULE } from '../../core/study/shareOfTolerance.ts';
import type { Level, SingleStudy } from '../../core/study/single.ts';
import { shown, shownP } from '../../core/study/words.ts';
import { Block } from '../sheet/sheet.tsx';
import { formatCount } from '../words/count.ts';
import { ohmsFigure, signedOhms } from '../words/ohmsFigure.ts';
import { BiasBar } from './biasBar.tsx';
import { ShareBar } from './shareBar.tsx';

/** The figures of a single-operator study: standard deviations level by level, sessions, tolerance, bias. */
export function SingleFigures({ study }: { study: SingleStudy }) {
  const { repeatability, repeatabilityInterval, dayToDay, runToRun, oneReading, sessionsDiffer, percentOfTolerance } =
    study;
  const like = oneReading.sdOhms;
  const levels: [string, Level | null][] = [
    ['Repeatability, within a session', repeatability],
    ['From session to session', dayToDay],
    ['From run to run', runToRun],
    ['One reading on any day', oneReading],
  ];
  return (
    <>
      <Block
        title="Standard deviations"
        source={`Levels 1 to 3 of NIST/SEMATECH e-Handbook 2.4.3 and 2.6.1; one reading by JCGM 100:2008, G.4.1. Interval by the chi-squared distribution. ${TOLERANCE_RULE}.`}
      >
        <table className="levels">
          <thead>
            <tr>
              <th scope="col">Level</th>
              <th scope="col" className="figures">
                Standard deviation s
              </th>
              <th scope="col" className="figures">
                Degrees of freedom
              </th>
            </tr>
          </thead>
          <tbody>
            {levels.map(
              ([words, level]) =>
                level && (
                  <tr key={words}>
                    <th scope="row">{words}</th>
                    <td className="figures">{ohmsFigure(level.sdOhms, { like })}</td>
                    <td className="figures">{shown(level.df)}</td>
                  </tr>
                ),
            )}
          </tbody>
        </table>
        <p>
          Repeatability lies between{' '}
          <strong className="figures">{ohmsFigure(repeatabilityInterval.lowerOhms, { like })}</strong> and{' '}
          <strong className="figures">{ohmsFigure(repeatabilityInterval.upperOhms, { like })}</strong> (95&nbsp;%).
        </p>
        {sessionsDiffer && (
          <p>
            Sessions against repeatability: F&nbsp;=&nbsp;{shown(sessionsDiffer.f)}, {shownP(sessionsDiffer.p)}.
          </p>
        )}
        {percentOfTolerance !== null && (
          <div className="share-line">
            Share of tolerance of one reading: <ShareBar percent={percentOfTolerance} />
          </div>
        )}
      </Block>
      {study.bias && <BiasFigures bias={study.bias} />}
    </>
  );
}

function BiasFigures({ bias }: { bias: NonNullable<SingleStudy['bias']> }) {
  const { biasOhms, interval, meanOhms, referenceOhms, percentOfTolerance, t, df, p } = bias;
  const like = Math.max(Math.abs(biasOhms), ...(interval ? [interval.upperOhms - interval.lowerOhms] : []));
  return (
    <Block
      title="Bias"
      source="Mean less reference value; t test and 95 % interval with the uncertainty of mean and reference together, degrees of freedom by Welch-Satterthwaite (JCGM 100:2008, 4.2, 5.1 and G.4.1)."
    >
      <p>
        Mean <strong className="figures">{ohmsFigure(meanOhms, { significant: 8 })}</strong>, reference{' '}
        <span className="figures">{ohmsFigure(referenceOhms, { significant: 10 })}</span>: bias{' '}
        <strong className="figures">{signedOhms(biasOhms, { like })}</strong>
        {interval && (
          <>
            , 95&nbsp;% interval <span className="figures">{signedOhms(interval.lowerOhms, { like })}</span> to{' '}
            <span className="figures">{signedOhms(interval.upperOhms, { like })}</span>
          </>
        )}
        .
      </p>
      {interval && <BiasBar biasOhms={biasOhms} interval={interval} />}
      {t !== null && p !== null && (
        <p className="quiet">
          t&nbsp;=&nbsp;{shown(t).replace('-', '−')}
          {df !== null && <> with {df < 1000 ? shown(df) : formatCount(Math.floor(df))} degrees of freedom</>},{' '}
          {shownP(p)}
          {percentOfTolerance !== null && <>; {shown(percentOfTolerance)}&nbsp;% of the window’s width</>}.
        </p>
      )}
    </Block>
  );
}
