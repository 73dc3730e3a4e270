import type { Run } from '../inspection/run.ts';
import { Problem } from '../problem/problem.ts';
import { significant } from '../quantity/significant.ts';
import { type CrossedStudy, POOLING_RULE, type SdInterval } from '../study/crossed.ts';
import type { SingleStudy } from '../study/single.ts';
import type { Study } from '../study/study.ts';
import { studyOfRun } from '../study/studyOfRun.ts';
import type { VarianceRow } from '../study/varianceTable.ts';
import { probabilityRow } from './figureRow.ts';
import { type Row, textRow } from './format.ts';

const DIGITS = 6;

/** What a study says by the readings that count; where some are missing, or they cannot be worked out, why. */
export function studyRows(run: Run): Row[] {
  try {
    const study = studyOfRun(run);
    return study === null ? [] : rowsOfStudy(study);
  } catch (thrown) {
    if (!(thrown instanceof Problem)) throw thrown;
    return [textRow('study', 'not worked out', thrown.what)];
  }
}

function rowsOfStudy(study: Study): Row[] {
  return [
    ...(study.design === 'crossed' ? crossedRows(study) : singleRows(study)),
    ...study.conclusions.map(({ about, text }) => textRow('study', `conclusion, ${about}`, text)),
    ...study.notes.map((note, index) => textRow('study', `note ${index + 1}`, note)),
  ];
}

function crossedRows(study: CrossedStudy): Row[] {
  return [
    textRow('study', 'rule', POOLING_RULE),
    ...study.table.flatMap((row) => varianceRows('variance', row)),
    ...(study.pooledTable ?? []).flatMap((row) => varianceRows('variance, interaction pooled', row)),
    ...study.components.flatMap(
      ({ source, sdOhms, percentOfVariance, percentOfStudyVariation, percentOfTolerance }) => [
        ohmsRow(`${source}, standard deviation`, sdOhms),
        percentRow(`${source}, share of variance`, percentOfVariance),
        percentRow(`${source}, share of study variation`, percentOfStudyVariation),
        percentRow(`${source}, share of tolerance`, percentOfTolerance),
      ],
    ),
    intervalRow('gauge, standard deviation, 95 % interval', study.gaugeInterval),
    numberRow('distinct categories', study.distinctCategories),
  ];
}

function varianceRows(table: string, { source, df, sumOfSquares, meanSquare, f, p }: VarianceRow): Row[] {
  return [
    numberRow(`${table}, ${source}, degrees of freedom`, df),
    numberRow(`${table}, ${source}, sum of squares in ohms squared`, sumOfSquares),
    ...(meanSquare === null ? [] : [numberRow(`${table}, ${source}, mean square in ohms squared`, meanSquare)]),
    ...(f === null ? [] : [numberRow(`${table}, ${source}, F`, f)]),
    ...(p === null ? [] : [probabilityRow(`${table}, ${source}, p`, p, '', 'study')]),
  ];
}

function singleRows(study: SingleStudy): Row[] {
  const { repeatability, repeatabilityInterval, dayToDay, runToRun, oneReading, sessionsDiffer, bias } = study;
  const levelRows = (name: string, level: SingleStudy['dayToDay']): Row[] =>
    level === null
      ? []
      : [ohmsRow(`${name}, standard deviation`, level.sdOhms), numberRow(`${name}, degrees of freedom`, level.df)];
  return [
    ...levelRows('repeatability', repeatability),
    intervalRow('repeatability, standard deviation, 95 % interval', repeatabilityInterval),
    ...levelRows('session to session', dayToDay),
    ...levelRows('run to run', runToRun),
    ...levelRows('one reading', oneReading),
    percentRow('one reading, share of tolerance', study.percentOfTolerance),
    ...(sessionsDiffer === null
      ? []
      : [numberRow('sessions, F', sessionsDiffer.f), probabilityRow('sessions, p', sessionsDiffer.p, '', 'study')]),
    ...(bias === null ? [] : biasRows(bias)),
  ];
}

function biasRows({
  biasOhms,
  uncertaintyOhms,
  interval,
  t,
  p,
  percentOfTolerance,
}: NonNullable<SingleStudy['bias']>): Row[] {
  return [
    ohmsRow('bias', biasOhms),
    ohmsRow('bias, standard uncertainty', uncertaintyOhms),
    ...(interval === null ? [] : [intervalRow('bias, 95 % interval', interval)]),
    ...(t === null ? [] : [numberRow('bias, t', t)]),
    ...(p === null ? [] : [probabilityRow('bias, p', p, '', 'study')]),
    percentRow('bias, share of tolerance', percentOfTolerance),
  ];
}

function ohmsRow(item: string, ohms: number): Row {
  return { row: 'study', item, ohms: significant(ohms, DIGITS) };
}

/** Whole numbers, such as degrees of freedom, as they are. */
function numberRow(item: string, number: number): Row {
  return { row: 'study', item, number: Number.isInteger(number) ? String(number) : significant(number, DIGITS) };
}

function percentRow(item: string, percent: number | null): Row {
  return percent === null
    ? textRow('study', item, 'not given: the window has not two limits')
    : { row: 'study', item, percent: significant(percent, DIGITS) };
}

function intervalRow(item: string, { lowerOhms, upperOhms }: SdInterval): Row {
  return { row: 'study', item, lower_ohms: significant(lowerOhms, DIGITS), upper_ohms: significant(upperOhms, DIGITS) };
}
